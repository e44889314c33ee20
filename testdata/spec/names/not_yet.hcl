log {
}

athlete "ines" {
  rides = "rides"
}

test "ramp" {
  athlete  = athlete.signe
  date     = "2026-09-20"
  protocol = protocol.gas_ramp
  efforts  = []
}
