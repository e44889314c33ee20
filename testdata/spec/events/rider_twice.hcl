event "lake" {
  athletes = [athlete.signe, athlete.signe]
  date     = "2026-02-30"
}
