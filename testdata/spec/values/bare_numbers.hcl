athlete "ines" {
  mass    = 61
  longest = 160
  recent  = [3, 180]
}

session "mine" {
  at_least = 45

  step "work" {
    duration = 20
    position = 0.5
  }
}
