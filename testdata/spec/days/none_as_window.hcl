athlete "ines" {
  days {
    monday = ["none", "75 min, 18:30"]
  }
}
