athlete "ines" {
  days = {
    monday = "60 min"
  }
}
