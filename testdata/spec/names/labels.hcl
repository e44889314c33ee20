athlete "Ines Silva" {
}

athlete {
}

athlete "Jõao Øst" {
}

meter "a" "b" {
}

athlete "ines" {
  days "usual" {
    monday = "60 min"
  }
}

block "b" {
  start = "2026-10-05"
  weeks = 4
  volume {
    first = "5 h"
  }
  week "third" {
    note = "x"
  }
  week "03" {
    note = "x"
  }
  waive "Weekly_Growth" {
    reason = "We talked about it."
  }
}
