athlete "ines" {
  days {
    monday = []
  }
}
