block "weekly" {
  start = "2026-10-05"
  weeks = 2

  week "1" {
    hours = "4 h"
  }
  week "2" {
    hours = "4 h 15 min"
  }
}

block "gap" {
  start = "2026-10-14"
  weeks = 3

  week "1" {
    hours = "4 h"
  }
  week "3" {
    hours = "4 h 15 min"
  }
}
