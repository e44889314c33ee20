language = 1
id       = "h3wz8k5t"

athlete "noor" {
  recent = ["2 h 50 min", "3 h", "3 h 10 min", "3 h"]

  days {
    tuesday  = "60 min"
    thursday = "75 min"
    saturday = "2 h"
  }
}

band "now" { power = "104-138 W" }

block "spring" {
  start = "2027-03-01"
  weeks = 4

  volume {
    first  = "3 h"
    growth = "15 min"
  }
  ride "steady" { session = session.steady }
}
