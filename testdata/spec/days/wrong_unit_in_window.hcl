athlete "ines" {
  days {
    monday = ["25 km, commute", "75 mins, 18:30"]
  }
}
