block "b" {
  start    = "2026-09-14"
  weeks    = 4
  per_week = 4
  volume {
    first = "5 h"
  }
}
