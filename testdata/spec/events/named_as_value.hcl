event "lake" {
  athletes = [athlete.signe]
  date     = "2026-12-12"
}
block "b" {
  athletes = [athlete.signe]
  start = "2026-10-05"
  weeks = 8
  event = event.lake

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
