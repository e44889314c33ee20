athlete "ines" {
  days {
    monday = ["75 min, 18:30"]
  }
}
