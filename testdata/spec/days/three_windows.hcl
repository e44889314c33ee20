athlete "ines" {
  days {
    monday = ["25 min, 07:30, commute", "40 min, 12:00", "75 min, 18:30"]
  }
}
