# What every case of this folder is decoded with, beside the built-in library.

language = 1
id       = "golden01"

athlete "marta" {
  born       = 1979
  mass       = "61 kg"
  time_zone  = "Europe/Lisbon"
  background = "regular"
  recent     = ["4 h 45 min", "5 h"]
  longest    = "2 h 40 min"

  days {
    tuesday  = "75 min, 18:30, indoor"
    saturday = "4 h 30 min, 08:30, outdoor or 2 h indoor"
  }
}

athlete "joao" {
  mass = "70 kg"
}

meter "pedals" {
  kind = "pedals"
}

test "steps" {
  athlete  = athlete.marta
  date     = "2026-09-05"
  protocol = protocol.lactate_step
  stages = [
    { power = "70 W", heart_rate = "95 bpm", lactate = "1.1 mmol/L", rpe = 7 },
    { power = "90 W", heart_rate = "104 bpm", lactate = "1.0 mmol/L", rpe = 8 },
  ]
}

band "autumn" {
  athlete = athlete.marta
  tests   = [test.steps]
}
