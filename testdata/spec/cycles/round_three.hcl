let {
  first  = scale(let.third, 0.9)
  second = scale(let.first, 1.08)
  third  = scale(let.second, 1.08)
  fine   = "5 h"
}

block "b" {
  start = "2026-10-05"
  weeks = 4
  volume {
    first = let.fine
  }
  ride "steady" {
    session = session.steady
  }
}
