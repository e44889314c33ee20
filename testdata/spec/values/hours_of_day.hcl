block "b" {
  start = "2026-10-05"
  weeks = 4
  volume {
    first = "5 h"
  }
  test_day "t" {
    protocol = protocol.talk_test
    week     = 2
    day      = "thursdya"
    at       = "6:30 pm"
  }
}
