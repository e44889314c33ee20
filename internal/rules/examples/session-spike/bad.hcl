# The way over the dam makes the same ride much longer than any before.
language = 1
id       = "c8nv2h6u"

athlete "akira" {
  recent  = ["6 h 15 min", "6 h", "5 h 45 min", "6 h 15 min"]
  longest = "2 h 20 min"

  screening {
    on     = "2027-01-20"
    allows = "easy riding only"
  }

  days {
    tuesday   = "90 min"
    wednesday = "90 min"
    thursday  = "90 min"
    saturday  = "4 h"
  }
}

band "spring" { power = "96-128 W" }

block "spring" {
  start = "2027-03-01"
  weeks = 4

  volume {
    first  = "6 h"
    growth = "15 min"
  }
  recovery { weeks = [4] }

  ride "long" {
    session  = session.long_ride
    per_week = 1
    share    = "30 %"
    days     = ["saturday"]
  }
  ride "steady" { session = session.steady }

  week "3" {
    note     = "Round the lake and over the dam."
    saturday = { ride = "long", minutes = "2 h 45 min" }
  }
}
