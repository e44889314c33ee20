athlete "ines" {
  days {
    monday    = "75 mins, 18:30"
    tuesday   = "60 min, 25:00"
    wednesday = "indor, 60 min"
    thursday  = "18:30"
    friday    = "60 min, 90 min"
    saturday  = "4 h, outdoor or indoor"
    sunday    = "4 h, none"
  }
  on = { "2026-10-06" = "1:00, 17:00" }
}
