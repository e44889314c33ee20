let {
  hard  = ["tuesday", "saturday"]
  long  = scale("2 h", 1.25)
  first = plus("1 h", "45 min")
  both  = total([let.long, let.first])
  where = let.hard[1] == "saturday" && true ? "indoor" : "outdoor"
}

block "spring" {
  athletes = [for a in [athlete.signe, athlete.joao] : a if a != athlete.joao]
  start    = date_add("2026-09-28", "7 days")
  weeks    = 2 + 2 * 3

  volume {
    first   = let.both
    at_most = most("8 h", "9 h")
    growth  = least("25 min", "20 min")
  }
  ride "steady" {
    session = session.steady
    days    = [for i, d in let.hard : d if i < 5]
    share   = "${100 - 60} %"
  }
  test_day "look" {
    protocol = protocol.standard_ride
    week     = 8
    day      = weekday("2026-10-05")
    place    = let.where
  }
}
