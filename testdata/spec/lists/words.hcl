athlete "ines" {
  shifts = { early = "70 min, 15:20", late = ["60 min", 30] }
  roster {
    from = "2026-09-14"
    days = ["early", 1, true, ["late"]]
  }
}

band "b" {
  athlete   = athlete.signe
  threshold = "142 W"
  over      = ["climbs: 3 min, 115 %", 3, ["kicks: 10 s, all out"]]
}
