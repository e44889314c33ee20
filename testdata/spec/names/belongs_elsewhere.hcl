block "b" {
  start    = "2026-10-05"
  weeks    = 4
  per_week = 4
  volume {
    first = "5 h"
  }
}
