athlete "ines" {
  days {
    monday = 75
  }
}
