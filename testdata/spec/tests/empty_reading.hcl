test "ramp" {
  athlete  = athlete.signe
  date     = "2026-09-20"
  protocol = protocol.gas_ramp

  read_by_lab {
    method = "by eye"
  }
}
