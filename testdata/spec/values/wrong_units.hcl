athlete "ines" {
  mass    = "61 kilo"
  longest = "2 hours 40 mins"

  heart_rate {
    resting = "49"
    maximum = "179 W"
  }
}

session "mine" {
  step "work" {
    duration = "75 parsec"
    cadence  = "85-95 RPM"
  }
}
