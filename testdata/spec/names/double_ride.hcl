block "b" {
  start = "2026-10-05"
  weeks = 4
  volume {
    first = "5 h"
  }
  ride "easy" {
    session = session.steady
  }
  ride "easy" {
    session = session.commute
  }
  week "2" {
    hours = "4 h"
  }
  week "2" {
    note = "Again."
  }
}
