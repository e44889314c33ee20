test "t" {
  athlete  = athlete.signe
  date     = "2026-09-26"
  protocol = protocol.lactate_step
  stages = [
    { power = "70 W", lactate = "1.1 mmol/L", rpe = 4 },
    { power = "90 W", lactate = "1.1", rpe = "8" },
    { power = "110 W", lactate = "1.1 mmol", rpe = 8.5 },
  ]
}
