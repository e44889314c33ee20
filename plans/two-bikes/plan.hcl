# A winter with two bicycles. The road bicycle has pedals that measure power and waits for dry
# days; the old one stands on the trainer, for ice, dark and rain. The two meters do not read alike: so
# there is a band for each place. Change the figures to those of your rider, then run "towpath check" in
# this folder. What stands behind a "#" is for people only.
#
# This is training advice, not medical advice, and it clears nobody to ride. Pain or pressure in the
# chest, faintness, breath that is short without reason: stop, and get help. With a fever: no riding.
# Write no diagnosis, address or full name into this file.

language = 1
id       = "c9p5ha3s" # this plan's own name, drawn once. Keep it: calendar entries are known by it

athlete "solveig" {
  born       = 1986
  mass       = "66 kg"
  time_zone  = "Europe/Helsinki"
  background = "trained"
  recent     = ["7 h", "7 h 30 min", "6 h 45 min", "7 h 15 min"] # the four weeks before the block
  longest    = "2 h 45 min"                                      # of the last 30 days
  meters     = { outdoor = meter.pedals, indoor = meter.trainer }

  heart_rate {
    resting = "48 bpm"
    maximum = "182 bpm"
    from    = "measured"
  }
  screening {
    on     = "2026-10-20"
    allows = "submaximal"
  }

  # Days that can be ridden either way hold a limit for each place. Every such ride comes twice: as
  # planned for a dry day, and with the watts and the minutes for the trainer when it is icy.
  days {
    tuesday   = "75 min, 18:30, indoor"
    wednesday = "90 min, 17:30, outdoor or 75 min indoor"
    thursday  = "60 min, 18:30, indoor"
    saturday  = "4 h, 10:00, outdoor or 2 h indoor"
    sunday    = "2 h 30 min, 10:30, outdoor or 90 min indoor"
  }
}

meter "pedals" { kind = "pedals" }

meter "trainer" {
  kind     = "trainer"
  reads    = "-3 %"
  against  = meter.pedals
  compared = "2026-10-31"
}

# The coach knows the band on the road from last season. "climbs" lets the rider above it, for so long
# at a time, where the road leaves no choice.
band "road" {
  power      = "128-171 W"
  heart_rate = "116-134 bpm"
  place      = "outdoor"
  over       = "climbs: 3 min, 115 %"
}

# The same watts as the trainer's meter shows them.
band "trainer" {
  raises = band.road
  by     = "-3 %"
  place  = "indoor"
}

block "winter" {
  title = "Winter on two bicycles"
  start = "2026-11-30" # weeks begin on its day of the week
  weeks = 10

  volume {
    first   = "100 % of recent"
    growth  = "20 min" # over the loading week before
    at_most = "9 h"
  }
  recovery { weeks = [4, 7, 10] }

  ride "long" {
    session = session.long_ride
    share   = "35 %"
    days    = ["saturday", "sunday"]
  }
  ride "upper" {
    session  = session.upper_third
    per_week = 1
    minutes  = "75 min"
    weeks    = "5-6, 8-9"
    days     = ["wednesday"]
  }
  ride "steady" { session = session.steady }
}
