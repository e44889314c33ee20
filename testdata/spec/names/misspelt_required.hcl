block "b" {
  strat = "2026-10-05"
  weeks = 4
  volume {
    frist = "5 h"
  }
}
