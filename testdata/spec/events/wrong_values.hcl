event "Round the lake" {
  athletes = athlete.signe
  date     = "12 December 2026"
  lasts    = 6.5
}
