# A club of twelve. What they share stands in the squad, once: where they live, which days they have,
# their ride together on Saturdays. What a rider has of his or her own stands with the rider, in
# riders.hcl, and wins. Change the figures to those of your riders, then run "towpath check" in this
# folder. What stands behind a "#" is for people only.
#
# This is training advice, not medical advice, and it clears nobody to ride. Pain or pressure in the
# chest, faintness, breath that is short without reason: stop, and get help. With a fever: no riding.
# Write no diagnosis, address or full name into this file.

language = 1
id       = "y6g2uk8d" # this plan's own name, drawn once. Keep it: calendar entries are known by it

squad "wheelers" {
  title = "The twelve"
  athletes = [
    athlete.anouk, athlete.bastian, athlete.chiara, athlete.dominik, athlete.elif, athlete.fabio,
    athlete.greta, athlete.hakon, athlete.irma, athlete.jonas, athlete.katya, athlete.lorenz,
  ]

  defaults {
    time_zone  = "Europe/Zurich"
    background = "regular"
    recent     = ["5 h", "5 h 15 min", "4 h 45 min", "5 h"]
    longest    = "2 h 30 min"

    # The club's evening with a licensed practice. Put the real day here, or take the four lines out.
    screening {
      on     = "2027-01-14"
      allows = "submaximal"
    }

    days {
      tuesday  = "75 min, 18:30"
      thursday = "75 min, 18:30, indoor"
      saturday = "3 h 30 min, 09:00, outdoor"
      sunday   = "2 h 30 min"
    }
  }

  # Who is away that Saturday, by "on", a roster or travel, goes without; the plan of that week says so.
  fixed "together" {
    session = session.group_ride
    minutes = "2 h"
    days    = ["saturday"]
    at      = "09:00"
    note    = "From the boathouse. The group waits at the top of each hill."
  }
}

block "base" {
  title  = "Base for twelve"
  start  = "2027-02-01" # weeks begin on its day of the week
  weeks  = 8
  squads = [squad.wheelers]

  volume {
    first     = "100 % of recent" # each from his or her own
    growth    = "10 min"          # over the loading week before
    tolerance = "15 %"            # a week that does not fit a rider's days is cut by up to so much, and says so
  }
  recovery {
    weeks   = [4, 8]
    keep    = "65 %"
    without = ["together"]
  }
  ride "steady" { session = session.steady }

  # Two come later: she is back from a journey two weeks after the others, he joins in week 3.
  for_athlete {
    athletes = [athlete.irma]
    start    = "2027-02-15"
  }
  for_athlete {
    athletes  = [athlete.jonas]
    from_week = 3
  }
  # They live too far away for Saturdays together.
  for_athlete {
    athletes = [athlete.elif, athlete.hakon]
    without  = ["together"]
  }
  # Never more than four and a half hours, whatever the growth.
  for_athlete {
    athletes = [athlete.chiara]

    volume { at_most = "4 h 30 min" }
  }
}
