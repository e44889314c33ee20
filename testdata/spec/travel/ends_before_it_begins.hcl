athlete "ines" {
  travel {
    from      = "2026-10-25"
    to        = "2026-10-18"
    time_zone = "Asia/Tokyo"
  }
}
