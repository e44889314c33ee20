athlete "ines" {
  other "climbing" {
    minutes = "90 min"
  }
}
