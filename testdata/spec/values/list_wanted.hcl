block "b" {
  athletes = athlete.marta
  start    = "2026-09-14"
  weeks    = 4
  volume {
    first = "5 h"
  }
  ride "steady" {
    session = session.steady
    days    = "saturday"
  }
}
