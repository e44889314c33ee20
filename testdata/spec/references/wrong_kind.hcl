block "b" {
  athletes = [session.steady]
  start    = "2026-10-05"
  weeks    = 4
  volume {
    first = "5 h"
  }
  ride "look" {
    session = protocol.standard_ride
  }
  ride "other" {
    session = athlete.steady
  }
}
