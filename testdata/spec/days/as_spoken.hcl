athlete "ines" {
  days {
    monday    = "60 min, 18 Uhr"
    tuesday   = ["50 min, 07:15, commute", "60 min, 18h"]
    wednesday = "45 min 18:30 indoor easy"
    thursday  = "45 min hotel gym"
    friday    = ["25 min, 07:15, commute", "25 min, 16:30, commute", "60 min, 18:00"]
    saturday  = ["25 min, 07:15, commute", "25 min, 16:30, commute", "60 min, 18 Uhr"]
    sunday    = "2 h, 10h, 11h"
  }
}
