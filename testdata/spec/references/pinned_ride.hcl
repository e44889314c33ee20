block "b" {
  start = "2026-10-05"
  weeks = 4
  volume {
    first = "5 h"
  }
  ride "long" {
    session = session.long_ride
  }
  week "2" {
    saturday = { ride = "lnog", minutes = "2 h" }
    sunday   = { minutes = "2 h" }
    monday   = { ride = "long", session = session.commute }
  }
}
