squad "north" {
  title    = "The north squad"
  athletes = [athlete.signe, athlete.joao]

  defaults {
    time_zone  = "Europe/Tallinn"
    background = "regular"
    shifts     = { late = "40 min" }

    days {
      sunday = "3 h, 09:00"
    }
    roster {
      from = "2026-09-14"
      days = ["late"]
    }
  }

  fixed "club" {
    session  = session.group_ride
    minutes  = "2 h"
    days     = ["sunday"]
    athletes = [athlete.joao]
  }
}

event "lake" {
  title    = "Round the lake"
  athletes = [athlete.signe, athlete.joao]
  date     = "2026-12-12"
  lasts    = "6 h 30 min"
}

block "autumn" {
  squads = [squad.north]
  start  = "2026-10-05"
  weeks  = "8-10"
  decide = 6

  volume {
    first     = "5 h"
    tolerance = "15 %"
  }
  recovery {
    weeks   = "4, 8, last"
    without = ["long"]
  }

  ride "long" {
    session  = session.long_ride
    share    = "40 %"
    athletes = [athlete.signe]
  }
  ride "steady" {
    session = session.steady
    share   = "rest"
    weeks   = "9-last"
  }

  test_day "standard" {
    protocol = protocol.standard_ride
    week     = "last"
    day      = "sunday"
  }

  week "last" {
    note = "Rest."
  }

  fixed "coffee" {
    session  = session.recovery_spin
    minutes  = "45 min"
    days     = ["friday"]
    weeks    = [1, "last"]
    athletes = [athlete.joao]
  }

  for_athlete {
    athletes       = [athlete.joao]
    from_week      = 3
    rides_per_week = 3
    without        = ["long"]
    note           = "Start slowly."

    volume {
      growth = "10 min"
    }
    recovery {
      keep = "50 %"
    }
    limits {
      rest_days = 2
    }
    ride "upper" {
      session = session.upper_third
      minutes = "60 min"
      weeks   = "last"
    }
    week "5" {
      sunday = { ride = "upper", minutes = "60 min" }
    }
    waive "start-volume" {
      reason = "Used to it."
    }
  }

  limits {
    two_days    = "60 %"
    when_broken = "warn"
  }
}
