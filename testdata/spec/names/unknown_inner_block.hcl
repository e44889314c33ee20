athlete "ines" {
  day {
    monday = "60 min"
  }
  hart_rate {
    resting = "50 bpm"
  }
}
