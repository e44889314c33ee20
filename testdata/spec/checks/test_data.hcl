test "t" {
  athlete  = athlete.marta
  date     = "2026-09-05"
  protocol = protocol.lactate_step
  data     = "tests/none.csv"
}

test "u" {
  athlete  = athlete.marta
  date     = "2026-09-05"
  protocol = protocol.lactate_step
  data     = "tests/none.csv"
  stages   = [{ power = "70 W" }]
}
