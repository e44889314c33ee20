block "b" {
  athletes = [signe, athlete]
  start    = "2026-10-05"
  weeks    = 4
  volume {
    first = "5 h"
  }
  ride "steady" {
    session = sesion.steady
  }
  ride "long" {
    session = session["long_ride"]
  }
}
