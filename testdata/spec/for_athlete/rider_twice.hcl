block "b" {
  athletes = [athlete.signe, athlete.joao]
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
  for_athlete {
    athletes = [athlete.joao, athlete.joao]
    rides_per_week = 3
  }
}
