# Long rides end lower than is usual: no coach is warned of that.
language = 1
id       = "d4rk7w2n"

athlete "ilse" {
  recent  = ["5 h 50 min", "6 h", "5 h 45 min", "6 h"]
  longest = "2 h 20 min"

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

band "spring" {
  power      = "104-137 W"
  threshold  = "144 W"
  long_rides = "88 %"
}

session "hilly" {
  title   = "Hilly ride"
  purpose = "The roads of the race, from the floor of the band to what it allows."
  usual   = "2 h 30 min"

  step "work" {
    duration = "fill"
    position = "0-100 %"
  }
}

block "spring" {
  start = "2027-03-01"
  weeks = 4

  volume {
    first  = "6 h"
    growth = "10 min"
  }
  recovery { weeks = [4] }

  ride "long" {
    session  = session.hilly
    per_week = 1
    share    = "40 %"
    days     = ["saturday"]
  }
  ride "steady" { session = session.steady }
}
