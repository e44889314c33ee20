test "ramp" {
  athlete  = athlete.signe
  date     = "2026-09-20"
  protocol = protocol.gas_ramp
  step = "20 W"
}
