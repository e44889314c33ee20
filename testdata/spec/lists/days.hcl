block "b" {
  start = "2026-10-05"
  weeks = 4
  volume {
    first = "5 h"
  }
  ride "long" {
    session = session.long_ride
    days    = ["saturday", 7, ["sunday"], false]
  }
  ride "steady" {
    session = session.steady
  }
}
