block "b" {
  athletes = [athlete.signe]
  start = "2026-10-05"
  weeks = 8

  volume {
    first      = "5 h"
    tolerance  = "150 %"
  }
  ride "long" {
    session = session.long_ride
    share   = "40 %"
  }
  ride "steady" {
    session = session.steady
    share   = "rest"
  }
}
block "c" {
  athletes = [athlete.signe]
  start = "2026-10-05"
  weeks = 8

  volume {
    first      = "5 h"
    when_short = "take what fits"
    tolerance  = "15 %"
  }
  ride "long" {
    session = session.long_ride
    share   = "40 %"
  }
  ride "steady" {
    session = session.steady
    share   = "rest"
  }
}
block "d" {
  athletes = [athlete.signe]
  start = "2026-10-05"
  weeks = 8

  volume {
    first     = "5 h"
    tolerance = 15
  }
  ride "long" {
    session = session.long_ride
    share   = "40 %"
  }
  ride "steady" {
    session = session.steady
    share   = "rest"
  }
}
