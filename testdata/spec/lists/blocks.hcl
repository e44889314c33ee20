block "b" {
  athletes = [athlete.signe, 2, ["joao"], { who = athlete.joao }]
  start    = "2026-10-05"
  weeks    = 4
  volume {
    first = "5 h"
  }
  ride "steady" {
    session = session.steady
  }
}

band "b" {
  athlete = athlete.signe
  tests   = [test.steps, band.autumn, "steps", "2026-09-26"]
}
