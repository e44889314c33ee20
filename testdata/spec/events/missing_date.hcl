event "lake" {
  athletes = [athlete.signe]
  dates    = "2026-12-12"
}
