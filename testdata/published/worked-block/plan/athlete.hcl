# The rider is invented; so is every figure.
language = 1
id       = "w8gk3b5t"

athlete "solvei" {
  born         = 1973
  sex          = "female"
  time_zone    = "Europe/Oslo"
  background   = "regular"
  recent       = ["5 h 45 min", "6 h 15 min", "6 h", "6 h"]
  recent_until = "2026-09-27"
  longest      = "1 h 45 min"
  on           = { "2026-11-05 to 2026-11-06" = "none" }

  heart_rate {
    resting = "52 bpm"
    maximum = "174 bpm"
    from    = "measured"
  }
  screening {
    on     = "2026-09-10"
    allows = "maximal"
  }
  days {
    tuesday   = "75 min, 06:15"
    wednesday = "90 min, 17:45"
    thursday  = "75 min, 06:15"
    friday    = "45 min, 12:00"
    saturday  = "4 h, 09:00"
    sunday    = "2 h 30 min, 09:30"
  }
}

test "steps" {
  protocol = protocol.lactate_step
  date     = "2026-09-25"
  stage    = "4 min"
  stages = [
    { power = "60 W", heart_rate = "92 bpm", lactate = "1.0 mmol/L", rpe = 7 },
    { power = "80 W", heart_rate = "100 bpm", lactate = "0.9 mmol/L", rpe = 8 },
    { power = "100 W", heart_rate = "109 bpm", lactate = "0.95 mmol/L", rpe = 9 },
    { power = "120 W", heart_rate = "117 bpm", lactate = "1.05 mmol/L", rpe = 10 },
    { power = "140 W", heart_rate = "126 bpm", lactate = "1.35 mmol/L", rpe = 11 },
    { power = "160 W", heart_rate = "135 bpm", lactate = "1.9 mmol/L", rpe = 12 },
    { power = "180 W", heart_rate = "145 bpm", lactate = "2.9 mmol/L", rpe = 14 },
    { power = "200 W", heart_rate = "154 bpm", lactate = "4.5 mmol/L", rpe = 16 },
    { power = "220 W", heart_rate = "162 bpm", lactate = "7.1 mmol/L", rpe = 18 },
  ]
}

band "first" {
  tests      = [test.steps]
  method     = "min_baseline_plus_0.5"
  ceiling    = "95 %"
  floor      = "65 %"
  long_rides = "95 %"

  heart_rate_line { up_to = "160 W" }
}
