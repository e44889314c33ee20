athlete "otto" {
  power_meter = nein
  days {
    mo       = "none"
    Dienstag = "60 min"
    wed      = "75 min"
    sábado   = "3 h"
  }
  other "pool" {
    days   = ["Mo", "jueves"]
    demand = "hard"
  }
  travel {
    from = "2027-03-01"
    to   = "2027-03-14"
    zone = "America/Bogota"
  }
}

block "habits" {
  start = "2027-02-01"
  weeks = "4 weeks"
  volume { start = "5 h" }
  recovery = 4
  ride "long" { session = session.long_ride }
}

block "more" {
  start = "2027-03-01"
  weeks = 8
  volume { first = "5 h" }
  recovery { every = "4 weeks" }
  ride "long" { session = session.long_ride }
}

event "ride" {
  date     = "2027-04-17"
  duration = "8 h"
}
