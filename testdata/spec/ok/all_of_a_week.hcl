athlete "ines" {
  time_zone = "Europe/Riga"
  shifts    = { early = "70 min, 15:20", split = ["30 min, 06:30", "60 min, 19:00"], off = "none" }
  on = {
    "2026-10-06"               = ["20 min, 07:00, commute", "40 min, easy"]
    "2026-12-21 to 2027-01-03" = "none"
  }

  days {
    tuesday  = ["25 min, 07:30, commute", "75 min, 18:30"]
    saturday = "4 h, outdoor or 2 h indoor"
  }

  roster {
    from  = "2026-09-14"
    until = "2026-12-20"
    days  = ["early", "early", "split", "off"]
  }
  roster {
    from = "2027-01-04"
    days = ["early"]
  }

  travel {
    from      = "2026-10-15"
    to        = "2026-10-22"
    time_zone = "Asia/Tokyo"
  }

  fixed "club" {
    session = session.group_ride
    minutes = "2 h"
    days    = ["sunday"]
    at      = "09:00"
    place   = "outdoor"
    note    = "Meet at the bridge."
  }
  fixed "once" {
    session = session.steady
    minutes = "60 min"
    date    = "2026-10-10"
  }

  other "climbing" {
    title   = "Climbing hall"
    days    = ["monday", "thursday"]
    minutes = "90 min"
    at      = "19:00"
    demand  = "demanding"
  }

  device {
    leads      = "heart rate"
    letters    = "plain"
    most_steps = 30
    heart_rate = false
  }

  calendar {
    hours    = false
    reminder = "30 min"
  }
}
