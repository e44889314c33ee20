# The trainer shows less than the pedals for the same riding, and has a band that says so.
language = 1
id       = "m6tk3v8r"

athlete "bruno" {
  recent  = ["4 h 50 min", "5 h", "4 h 45 min", "5 h"]
  longest = "2 h 15 min"
  meters  = { outdoor = meter.pedals, indoor = meter.trainer }

  screening {
    on     = "2027-01-20"
    allows = "easy riding only"
  }

  days {
    tuesday  = "75 min, indoor"
    thursday = "75 min, indoor"
    saturday = "3 h, outdoor"
    sunday   = "90 min, outdoor"
  }
}

meter "pedals" { kind = "pedals" }

meter "trainer" {
  kind    = "trainer"
  reads   = "-5 %"
  against = meter.pedals
}

band "spring" { power = "116-155 W" }

band "spring_indoor" {
  raises = band.spring
  by     = "-5 %"
  place  = "indoor"
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
  ride "steady" { session = session.steady }
}
