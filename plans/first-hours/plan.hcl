# The first block of a rider who has just begun: about four hours a week, no laboratory, no power
# meter. Breath and speech lead. Change the figures to those of your rider, then run "towpath check"
# in this folder. What stands behind a "#" is for people only.
#
# This is training advice, not medical advice, and it clears nobody to ride. Pain or pressure in the
# chest, faintness, breath that is short without reason: stop, and get help. With a fever: no riding.
# Write no diagnosis, address or full name into this file.

language = 1
id       = "r7d2kq5x" # this plan's own name, drawn once. Keep it: calendar entries are known by it

athlete "dilan" {
  background  = "new"
  time_zone   = "Europe/Warsaw"
  power_meter = false
  recent      = ["2 h 30 min", "2 h 45 min", "3 h", "3 h"] # the four weeks before the block
  longest     = "70 min"                                   # of the last 30 days

  # Whether this rider may train is for a licensed practice to say. Put the real day here, or take the
  # four lines out until there is one: write what was allowed, never what was found.
  screening {
    on     = "2027-03-22"
    allows = "submaximal"
  }
  # What each day can hold, and from when. A day that is not named is a rest day; with "easy" in its
  # line, a day holds light rides only.
  days {
    tuesday  = "60 min, 18:30"
    thursday = "60 min, 18:30"
    saturday = "2 h, 10:00"
  }
}

# Effort from 6, none at all, to 20. Whole sentences come easily up to 12: breath and speech lead.
# With a heart-rate strap, write the beats of such a ride into the band as well, in a line of its own:
# heart_rate = "110-132 bpm"
band "talk" { rpe = "9-12" }

block "four_hours" {
  start = "2027-04-05" # weeks begin on its day of the week
  weeks = 8

  volume {
    first  = "3 h"
    growth = "10 min" # over the loading week before
  }
  recovery { weeks = [4, 8] } # lighter weeks
  ride "easy" { session = session.steady }
}
