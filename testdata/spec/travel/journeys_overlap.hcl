athlete "ines" {
  travel {
    from      = "2026-10-18"
    to        = "2026-10-25"
    time_zone = "Asia/Tokyo"
  }
  travel {
    from      = "2026-10-25"
    to        = "2026-11-01"
    time_zone = "Europe/Athens"
  }
}
