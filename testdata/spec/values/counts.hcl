block "b" {
  start          = "2026-10-05"
  weeks          = "8"
  rides_per_week = 4-5
  volume {
    first = "5 h"
  }
  ride "steady" {
    session  = session.steady
    per_week = "two"
    weeks    = [1, 3.5]
  }
  ride "long" {
    session  = session.long_ride
    per_week = "3-1"
    weeks    = "1, 3-x"
  }
  ride "other" {
    session = session.commute
    weeks   = "1-3, 3"
  }
}
