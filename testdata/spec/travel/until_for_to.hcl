athlete "ines" {
  travel {
    from      = "2026-10-18"
    until     = "2026-10-25"
    time_zone = "Asia/Tokyo"
  }
}
