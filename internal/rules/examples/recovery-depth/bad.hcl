# The fourth week is hardly lighter than the third.
language = 1
id       = "j5rw7q2m"

athlete "ivo" {
  recent  = ["4 h 50 min", "5 h", "4 h 45 min", "5 h"]
  longest = "2 h 15 min"

  screening {
    on     = "2027-01-20"
    allows = "easy riding only"
  }

  days {
    tuesday  = "75 min"
    thursday = "75 min"
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
    growth = "15 min"
  }
  recovery {
    weeks = [4]
    keep  = "80 %"
  }

  ride "long" {
    session  = session.long_ride
    per_week = 1
    share    = "40 %"
    days     = ["saturday"]
  }
  ride "steady" { session = session.steady }
}
