squad "north" {
  athletes   = [athlete.signe]
  background = "regular"

  days {
    monday = "60 min"
  }
}
