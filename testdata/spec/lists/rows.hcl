test "t" {
  athlete  = athlete.signe
  date     = "2026-09-26"
  protocol = protocol.lactate_step
  stages = [
    ["70 W", "95 bpm", "1.1 mmol/L"],
    90,
    { power = 110, heart_rate = ["116 bpm"], lactate = true, rpe = "9" },
  ]
}
