athlete "ines" {
  on = { "2026-12-21" = ["30 min", "30 min", "30 min"] }
}
