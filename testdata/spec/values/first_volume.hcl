block "a" {
  start = "2026-10-05"
  weeks = 4
  volume {
    first  = "100 %"
    growth = "8 percent"
  }
}

block "b" {
  start = "2026-12-14"
  weeks = 4
  volume {
    first  = "100 % of last"
    growth = "-10 min"
  }
}

block "c" {
  start = "2027-02-14"
  weeks = 4
  volume {
    first = 5
  }
}
