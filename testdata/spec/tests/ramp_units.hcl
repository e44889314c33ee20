test "ramp" {
  athlete  = athlete.signe
  date     = "2026-09-20"
  protocol = protocol.gas_ramp
  ramp    = "20 W"
  step    = "20 W/min"
  warm_up = 10
}
