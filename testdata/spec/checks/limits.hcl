# No block could be held to any of these.
block "b" {
  start = "2026-10-05"
  weeks = 4

  volume {
    first = "5 h"
  }
  ride "steady" {
    session = session.steady
  }
  limits {
    weekly_growth  = "-10 %"
    session_spike  = "-5 min"
    big_weekend    = "-3 %"
    long_share     = "200 %"
    recovery_depth = "30-150 %"
  }
}

# A typed, raised and derived band is one mistake.
band "three_ways" {
  athlete = athlete.signe
  from    = "2026-10-05"
  raises  = band.typed
  by      = "2 %"
  tests   = [test.steps]
  power   = "100-120 W"
}

band "typed" {
  athlete   = athlete.signe
  power     = "100-120 W"
  threshold = "126 W"
}
