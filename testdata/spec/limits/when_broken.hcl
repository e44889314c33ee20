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
  limits {
    two_days    = "60"
    when_broken = "warning"
  }
}
block "c" {
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
  limits {
    two_days    = "160 %"
    when_broken = false
  }
}
