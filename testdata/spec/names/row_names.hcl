test "t" {
  athlete  = athlete.signe
  date     = "2026-09-26"
  protocol = protocol.lactate_step
  stages = [
    { power = "70 W", heartrate = "95 bpm", lactate = "1.1 mmol/L" },
    { pwer = "90 W", lactate = "1.0 mmol/L" },
    { lactate = "1.0 mmol/L" },
    "110 W",
  ]
}
