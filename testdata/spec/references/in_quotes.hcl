block "b" {
  athletes = ["signe"]
  start    = "2026-10-05"
  weeks    = 4
  volume {
    first = "5 h"
  }
  ride "steady" {
    session = "session.steady"
  }
}
