athlete "ines" {
  travel {
    from      = 2026-10-18
    to        = "18 October 2026"
    time_zone = Tokyo
  }
}
