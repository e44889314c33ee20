block "b" {
  strat = "2026-09-14"
  weeks = 4
  volume {
    frist = "5 h"
  }
}
