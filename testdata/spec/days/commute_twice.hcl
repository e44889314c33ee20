athlete "ines" {
  days {
    monday = "25 min, commute, 07:30, commute"
  }
}
