block "b" {
  start = "2026-10-05"
  weeks = 4
  volume {
    first   = "5 h"
    at_most = "4 h"
  }
  recovery {
    weeks = [4, 8]
    every = 4
    keep  = "160 %"
  }
  ride "long" {
    session = session.long_ride
    share   = "40 %"
    minutes = "2 h"
    days    = ["saturday", "saturday"]
    weeks   = "3, 5-7"
  }
  test_day "t" {
    protocol = protocol.talk_test
    week     = 2
    weeks    = "1-3"
    day      = "monday"
  }
  test_day "u" {
    protocol = protocol.talk_test
    day      = "monday"
  }
  week "6" {
    note = "Too late."
  }
  waive "weekly-growth" {
    weeks  = 5
    reason = "We talked."
  }
}

block "c" {
  athletes = [athlete.signe, athlete.signe]
  start    = "2026-12-14"
  weeks    = 2
  week "1" {
    hours = "4 h"
  }
}
