squad "north" {
  athletes  = [athlete.bo]
  time_zone = "Europe/Tallinn"
}
athlete "bo" {
  heart_rate = false
  days { tuesday = "60 min" }
}
band "bo" {
  athlete = athlete.bo
  rpe     = "9-12"
}
block "squad" {
  athletes = [athlete.bo]
  start  = "2026-10-05"
  weeks  = 4
  growth = "10 min"
  volume { first = "60 min" }
  ride "steady" { session = session.steady }
  for_athlete {
    athletes = [athlete.bo]
    joins    = 3
  }
  for_athlete {
    athletes = [athlete.bo]
    away     = "2026-10-12 to 2026-10-18"
  }
}
