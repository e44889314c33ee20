# In the second week the rider rides to work on three days; one of the others stays free.
language = 1
id       = "f4zb8c2w"

athlete "nadia" {
  recent  = ["4 h 50 min", "5 h", "4 h 45 min", "5 h"]
  longest = "2 h 15 min"

  screening {
    on     = "2027-01-20"
    allows = "easy riding only"
  }

  days {
    monday    = "60 min"
    tuesday   = "75 min"
    wednesday = "60 min"
    thursday  = "75 min"
    friday    = "60 min"
    saturday  = "3 h"
    sunday    = "90 min"
  }
}

band "spring" { power = "96-128 W" }

block "spring" {
  start = "2027-03-01"
  weeks = 4

  volume {
    first  = "5 h"
    growth = "15 min"
  }
  recovery { weeks = [4] }

  ride "long" {
    session  = session.long_ride
    per_week = 1
    share    = "40 %"
    days     = ["saturday"]
  }
  ride "steady" {
    session = session.steady
    days    = ["sunday", "tuesday", "thursday"]
  }

  week "2" {
    monday    = { session = session.commute, minutes = "30 min" }
    wednesday = { session = session.commute, minutes = "30 min" }
    friday    = { session = session.commute, minutes = "30 min" }
  }

  limits { riding_days_in_a_row = 14 }
}
