block "b" {
  start = "2026-10-05"
  weeks = 8
  volume {
    first = "5 h"
  }
  recovery {
    weeks = [4, true]
  }
  ride "long" {
    session = session.long_ride
    weeks   = [[1, 2], 3]
  }
  ride "steady" {
    session = session.steady
    weeks   = [1, session.steady]
  }
}
