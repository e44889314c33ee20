# Tuesday of the second week is lost, and the weekend takes what it held.
language = 1
id       = "t4mk8w2s"

athlete "ines" {
  recent  = ["4 h 50 min", "5 h", "4 h 45 min", "5 h"]
  longest = "2 h 15 min"
  on      = { "2027-03-09" = "none" }

  screening {
    on     = "2027-01-20"
    allows = "easy riding only"
  }

  days {
    tuesday  = "90 min"
    thursday = "90 min"
    saturday = "3 h"
    sunday   = "2 h"
  }
}

band "spring" { power = "96-128 W" }

block "spring" {
  start = "2027-03-01"
  weeks = 3

  volume { first = "5 h" }

  ride "long" {
    session  = session.long_ride
    per_week = 1
    share    = "40 %"
    days     = ["saturday"]
  }
  ride "steady" {
    session  = session.steady
    per_week = "2-3"
  }

  limits {
    two_days    = "60 %"
    when_broken = "warn"
  }
}
