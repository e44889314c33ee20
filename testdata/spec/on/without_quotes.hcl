athlete "ines" {
  on = { 2026-12-21 = "none" }
}
