athlete "ines" {
  days {
    monday = ["commute", "75 min"]
  }
}
