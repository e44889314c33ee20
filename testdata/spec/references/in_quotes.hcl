block "b" {
  athletes = ["marta"]
  start    = "2026-09-14"
  weeks    = 4
  volume {
    first = "5 h"
  }
  ride "steady" {
    session = "session.steady"
  }
}
