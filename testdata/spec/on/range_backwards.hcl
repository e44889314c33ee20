athlete "ines" {
  on = { "2027-01-03 to 2026-12-21" = "none" }
}
