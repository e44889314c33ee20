band "road" {
  athlete    = athlete.signe
  threshold  = "142 W"
  place      = "outdoor"
  long_rides = "95 %"
  over       = ["climbs: 3 min, 115 %", "sprints: 10 s, all out"]
}

band "trainer" {
  athlete   = athlete.joao
  threshold = "150 W"
  over      = "kicks: 108 %, 90 s"
}

session "jumps" {
  title = "Jumps"

  step "easy" {
    duration = "fill"
    position = "0-33 %"
  }
  step "jump" {
    duration = "10 s"
    over     = "sprints"
  }
}

test "ramp" {
  athlete  = athlete.signe
  date     = "2026-09-20"
  protocol = protocol.gas_ramp
  warm_up  = "10 min"
  ramp     = "20 W/min"
  step     = "20 W"

  read_by_lab {
    second_threshold   = "196 W"
    second_heart_rate  = "158 bpm"
    maximum_heart_rate = "179 bpm"
    peak_power         = "245 W"
  }
}
