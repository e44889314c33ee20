athlete "ines" {
  born = 1799
  mass = "610 kg"
}

block "b" {
  start          = "2026-10-05"
  weeks          = 8.5
  rides_per_week = "4-20"
  volume {
    first = "0 min"
  }
}
