# A rider who works shifts: two early, two late, two nights, three days off, over and over. The roster
# decides what a day can hold. Change the figures to those of your rider, then run "towpath check" in
# this folder. What stands behind a "#" is for people only.
#
# This is training advice, not medical advice, and it clears nobody to ride. Pain or pressure in the
# chest, faintness, breath that is short without reason: stop, and get help. With a fever: no riding.
# Write no diagnosis, address or full name into this file.

language = 1
id       = "f4j9ym2v" # this plan's own name, drawn once. Keep it: calendar entries are known by it

athlete "amina" {
  time_zone  = "America/Halifax"
  background = "regular"
  recent     = ["5 h", "4 h 15 min", "5 h 30 min", "5 h"] # the four weeks before the block
  longest    = "2 h 15 min"                               # of the last 30 days

  screening {
    on     = "2027-08-02"
    allows = "submaximal"
  }

  # What a day can hold, by its shift.
  shifts = {
    early = "75 min, 16:00"
    late  = "75 min, 09:30"
    night = "40 min, 16:30, indoor, easy" # between two nights: light rides only
    sleep = "none"                        # home in the morning after the last night
    off   = "3 h, 10:00"
  }

  # The first five weeks are published: a table with a line for each date, as a spreadsheet saves it,
  # with commas or semicolons, 2026-12-24 or 24.12.2026. For one that comes month by month write one
  # such block a month. What comes after follows the nine days that always repeat.
  roster {
    from  = "2027-08-23"
    until = "2027-09-26"
    file  = "roster.csv"
  }
  roster {
    from = "2027-09-27"
    days = ["off", "early", "early", "late", "late", "night", "night", "sleep", "off"]
  }
}

band "now" {
  power      = "108-143 W"
  heart_rate = "112-131 bpm"
}

block "between_shifts" {
  title = "Nine weeks between shifts"
  start = "2027-08-23" # weeks begin on its day of the week; the roster need not
  weeks = 9

  volume {
    first     = "100 % of recent"
    growth    = "15 min" # over the loading week before
    tolerance = "15 %"   # a week whose shifts hold less is cut by up to so much, and says so
  }
  recovery { every = 4 }

  ride "long" {
    session  = session.long_ride
    per_week = "0-1" # some weeks have no day that is long enough
    minutes  = "2 h 15 min"
    at_least = "2 h"
  }
  ride "steady" { session = session.steady }
}
