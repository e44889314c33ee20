athlete "ines" {
  meters = { indoor = meter.pedals, outdoor = meter.pedals, indoor = meter.pedals }
  on = {
    "2026-10-06" = "none"
    "2026-10-06" = "60 min"
  }
}
