block "b" {
  athletes = [marta, athlete]
  start    = "2026-09-14"
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
