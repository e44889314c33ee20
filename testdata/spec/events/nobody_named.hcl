event "lake" {
  date  = "2026-12-12"
  lasts = "6 h 30 min"
}
