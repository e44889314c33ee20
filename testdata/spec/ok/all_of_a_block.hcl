block "autumn" {
  title          = "Autumn base"
  aim            = "A hilly 100 km in December."
  note           = "Sleep comes first."
  athletes       = [athlete.signe]
  start          = "2026-10-05"
  weeks          = 8
  rides_per_week = "4-5"

  volume {
    first      = "100 % of recent"
    growth     = "8 %"
    at_most    = "7 h 30 min"
    when_short = "take what fits"
  }
  recovery {
    weeks = [4, 8]
    keep  = "60 %"

    ride "easy" {
      session = session.steady
      share   = "rest"
    }
  }
  ride "long" {
    session  = session.long_ride
    per_week = 1
    share    = "40 %"
    days     = ["saturday", "sunday"]
  }
  ride "steady" {
    session  = session.steady
    per_week = "0-2"
    share    = "rest"
    weeks    = "3, 5-7"
  }
  test_day "standard" {
    protocol = protocol.standard_ride
    weeks    = "1-7"
    day      = "thursday"
    at       = "10:15"
  }
  week "3" {
    hours    = "6 h 15 min"
    note     = "Eat on the bike."
    saturday = { ride = "long", minutes = "2 h 30 min" }
    sunday   = [{ session = session.commute, minutes = "40 min" }, { ride = "steady", minutes = "60 min", at = "17:00" }]
  }
  limits {
    weekly_growth  = "10 %"
    session_spike  = "30 min"
    recovery_depth = "30-50 %"
    rest_days      = 1
  }
  waive "session-spike" {
    weeks  = "6-7"
    reason = "A flat route with a station half-way."
  }
}
