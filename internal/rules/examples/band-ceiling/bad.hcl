# Firm work is written as a share of the threshold, and 100 % of it lies above the band.
language = 1
id       = "m8qa2g6b"

athlete "elif" {
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

session "firm" {
  title   = "Firm"
  purpose = "Steady pressure on a long drag."

  step "warm_up" {
    duration     = "10 min"
    shape        = "rising"
    of_threshold = "50-70 %"
  }
  step "work" {
    duration     = "fill"
    of_threshold = "90-100 %"
  }
}

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
  ride "firm" {
    session  = session.firm
    per_week = 1
    minutes  = "60 min"
  }
  ride "steady" { session = session.steady }
}
