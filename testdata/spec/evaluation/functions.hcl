athlete "ines" {
  longest      = scal("1 h", 2)
  mass         = plus("60 kg", "1 W")
  recent       = [scale("1 h"), scale("1 h", "2"), total([]), total(["1 h", "2 W"]), scale("soon", 2), minus("1 h", 5)]
  recent_until = date_add("2026-02-30", "7 days")
  time_zone    = weekday("monday")
  name         = date_add("2026-10-05", "7")
}
