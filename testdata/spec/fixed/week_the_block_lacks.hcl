block "b" {
  athletes = [athlete.signe]
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
  fixed "group" {
    session = session.group_ride
    minutes = "2 h"
    days    = ["sunday"]
    weeks   = "6-9"
  }
}
