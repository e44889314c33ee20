test "ramp" {
  athlete  = athlete.signe
  date     = "2026-09-20"
  protocol = protocol.gas_ramp

  read_by_lab {
    second_threshold   = "158 bpm"
    second_heart_rate  = "196 W"
    maximum_heart_rate = "179"
    peak_pwer          = "245 W"
  }
}
