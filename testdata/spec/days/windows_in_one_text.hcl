athlete "ines" {
  days {
    monday = "25 min, 07:30, commute and 75 min, 18:30"
  }
}
