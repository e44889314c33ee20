athlete "ines" {
  days {
    monday = "60 min"
  }
  days {
    friday = "60 min"
  }
}
