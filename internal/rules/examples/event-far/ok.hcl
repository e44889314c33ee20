# The day round the loch lasts four and a half hours, and two and a half have been ridden before it.
language = 1
id       = "y6hq3n9d"

athlete "magnus" {
  recent  = ["4 h 50 min", "5 h", "4 h 45 min", "5 h"]
  longest = "2 h 15 min"

  screening {
    on     = "2027-01-20"
    allows = "easy riding only"
  }

  days {
    tuesday  = "90 min"
    thursday = "90 min"
    saturday = "3 h"
    sunday   = "90 min"
  }
}

band "spring" { power = "96-128 W" }

block "spring" {
  start = "2027-03-01"
  weeks = 4

  volume {
    first  = "5 h"
    growth = "25 min"
  }
  recovery { weeks = [4] }

  ride "long" {
    session  = session.long_ride
    per_week = 1
    share    = "43 %"
    days     = ["saturday"]
  }
  ride "steady" {
    session  = session.steady
    per_week = 3
  }
}

event "loch" {
  title = "Round the loch"
  date  = "2027-04-04"
  lasts = "4 h 30 min"
}
