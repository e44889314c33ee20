squad "north" {
  athletes = [athlete.signe]
}
block "b" {
  squads = [athlete.signe, "north"]
  start = "2026-10-05"
  weeks = 8

  volume {
    first = "5 h"
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
