athlete "ines" {
  on = {
    "2026-12-21 to"       = "none"
    "2026-12-24 to 27"    = "none"
    "Christmas"           = "none"
  }
}
