test "t" {
  athlete  = athlete.signe
  date     = "2026-09-26"
  protocol = protocol.lactate_step
  data     = "tests/none.csv"
}

test "u" {
  athlete  = athlete.signe
  date     = "2026-09-26"
  protocol = protocol.lactate_step
  data     = "tests/none.csv"
  stages   = [{ power = "70 W" }]
}
