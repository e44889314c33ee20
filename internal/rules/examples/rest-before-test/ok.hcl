# The last ride before the test is four days off.
language = 1
id       = "k5sd7f3h"

athlete "freya" {
  recent  = ["4 h 50 min", "5 h", "4 h 45 min", "5 h"]
  longest = "2 h 15 min"

  screening {
    on     = "2027-01-20"
    allows = "maximal"
  }

  days {
    tuesday  = "75 min"
    thursday = "75 min"
    friday   = "75 min"
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
  recovery { weeks = [4] }

  ride "long" {
    session  = session.long_ride
    per_week = 1
    share    = "40 %"
    days     = ["saturday"]
  }
  ride "steady" { session = session.steady }

  test_day "retest" {
    protocol = protocol.lactate_step
    week     = 4
    day      = "saturday"
    place    = "laboratory"
  }
  week "4" {
    tuesday = { ride = "steady", minutes = "60 min" }
  }
}
