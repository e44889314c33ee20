athlete "ines" {
  days {
    monday = ["25 min, 07:30", 75]
  }
}
