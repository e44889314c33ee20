# Both days in the hills are long, though the block keeps long days apart.
language = 1
id       = "r2vn6x8d"

athlete "teodor" {
  recent  = ["5 h 20 min", "5 h 30 min", "5 h 15 min", "5 h 30 min"]
  longest = "2 h 30 min"

  screening {
    on     = "2027-01-20"
    allows = "easy riding only"
  }

  days {
    tuesday  = "75 min"
    thursday = "75 min"
    saturday = "3 h"
    sunday   = "3 h"
  }
}

band "spring" { power = "96-128 W" }

block "spring" {
  start = "2027-03-01"
  weeks = 4

  volume {
    first  = "5 h 30 min"
    growth = "15 min"
  }
  recovery { weeks = [4] }

  ride "long" {
    session  = session.long_ride
    per_week = 1
    share    = "43 %"
    days     = ["saturday"]
  }
  ride "steady" { session = session.steady }

  week "3" {
    saturday = { ride = "long", minutes = "2 h 35 min" }
    sunday   = { ride = "steady", minutes = "2 h 30 min" }
  }

  limits {
    long_days_apart = true
    big_weekend     = "3 h"
    session_spike   = "60 min"
    when_broken     = "warn"
  }
}
