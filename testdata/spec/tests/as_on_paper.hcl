# A report of a laboratory, typed as it stands on paper.
test "lab" {
  date     = "2026-11-14"
  protocol = protocol.lactate_step
  stage    = "4:00"
  stages = [
    { power = "90,5 W", heart_rate = "103 bpm", lactate = "0,9 mmol/L", rpe = 8 },
    { power = "240 W", heart_rate = "171 bpm", lactate = "6.2 mmol/L", rpe = 18, duration = "3:20" },
  ]
}

test "breath" {
  date     = "2026-11-14"
  protocol = protocol.ramp
  ramp     = "25 W"

  read_by_lab {
    vt1   = "205 W"
    vt2   = "272 W"
    hrmax = "190 bpm"
    pmax  = "384 W"
  }
}

band "winter" {
  tests = [test.lab]
  over  = ["climbs: 5 min, 20 %", "sprints: 10 s"]
}

session "mine" {
  step "work" { duration = "1:30" }
}
