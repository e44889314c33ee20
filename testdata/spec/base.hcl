# What every case of this folder is decoded with, beside the built-in library.

language = 1
id       = "golden01"

athlete "signe" {
  born       = 1979
  mass       = "58 kg"
  time_zone  = "Europe/Tallinn"
  background = "regular"
  recent     = ["4 h 45 min", "5 h"]
  longest    = "2 h 40 min"

  days {
    tuesday  = "75 min, 18:30, indoor"
    saturday = "3 h 40 min, 09:15, outdoor or 2 h indoor"
  }
}

athlete "joao" {
  mass = "70 kg"
}

meter "pedals" {
  kind = "pedals"
}

test "steps" {
  athlete  = athlete.signe
  date     = "2026-09-26"
  protocol = protocol.lactate_step
  stages = [
    { power = "80 W", heart_rate = "102 bpm", lactate = "0.9 mmol/L", rpe = 8 },
    { power = "90 W", heart_rate = "104 bpm", lactate = "1.0 mmol/L", rpe = 8 },
  ]
}

band "autumn" {
  athlete = athlete.signe
  tests   = [test.steps]
}
