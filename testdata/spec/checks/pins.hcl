block "b" {
  start = "2026-10-05"
  weeks = 2
  volume {
    first = "4 h"
  }
  week "1" {
    monday  = []
    tuesday = [{ session = session.steady }, { session = session.steady }, { session = session.steady }]
    friday  = "long"
    sunday  = { ride = "long", place = "outdoor" }
  }
}
