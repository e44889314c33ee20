athlete "ines" {
  days {
    monday    = "none"
    tuesday   = "indoor, 18:30, 75 min"
    wednesday = "easy, 40 min"
    thursday  = "4 h or 2 h indoor"
    friday    = "outdoor or 2 h indoor, 08:30, 4 h"
    saturday  = "4 h outdoor or 90 min indoor, easy"
  }
  on = {
    "2026-10-06" = "40 min, easy"
    "2026-10-07" = "none"
  }
}
