# A plan: everything below is an example. Change the figures to those of your rider, then run
# "towpath check" in this folder; it says what does not fit, and what the smallest change would be.
# "towpath show" prints the block, "towpath build" writes the files. What stands behind a "#" is for
# people only. "towpath reference" lists every name that a plan can hold.
#
# This is training advice, not medical advice, and it clears nobody to ride. Pain or pressure in the
# chest, faintness, breath that is short without reason: stop, and get help. With a fever: no riding.
# Write no diagnosis, address or full name into this file.

language = 1          # the version of the language
id       = "d3k7wn5q" # this plan's own name, drawn once. Keep it: calendar entries are known by it

athlete "sam" {
  born       = 1984
  background = "regular" # new, returning, regular or trained
  time_zone  = "Europe/Lisbon"

  # Hours ridden in each of the last four weeks, oldest first, and the longest ride of the last 30 days.
  recent  = ["3 h 30 min", "3 h 45 min", "4 h", "3 h 45 min"]
  longest = "90 min"

  # No power meter? Take the "#" away, and type the heart rate of the band below without its watts.
  # power_meter = false

  # Whether this rider may train is for a licensed practice to say. Put the real day here, or take the
  # four lines out until there is one: write what was allowed, never what was found. A test to the limit
  # needs allows = "maximal"; the third choice is "easy riding only".
  screening {
    on     = "2027-02-15"
    allows = "submaximal"
  }

  # What each day can hold: minutes, then hour and place where you know them. A day that is not named
  # is a rest day. Add "easy" where the day can only hold a light ride.
  days {
    tuesday  = "60 min, 18:30"
    thursday = "75 min, 18:30, indoor"
    saturday = "2 h 30 min, 09:00, outdoor or 90 min indoor"
    sunday   = "90 min, 10:00"
  }

  # Dates that differ: travel, shifts, family. "none" is a rest day.
  #
  # on = {
  #   "2027-03-13" = "2 h, 10:00"
  # }
}

# The low-intensity band, typed in: from the floor to the ceiling, at which whole sentences still come
# easily. The heart rate is the one seen at these two powers. A rider with neither writes rpe = "9-12",
# the effort from 6 to 20.
band "now" {
  athlete    = athlete.sam
  power      = "105-140 W"
  heart_rate = "108-128 bpm"
}

# With a lactate test, delete the band above and let the test make it. Copy this without the "#", with
# the stages of your test:
#
# test "steps" {
#   athlete  = athlete.sam
#   date     = "2027-02-20"
#   protocol = protocol.lactate_step
#   stage    = "4 min"
#   site     = "earlobe"   # or "fingertip"
#   analyser = "hand-held" # or "bench"
#   stages = [
#     { power = "80 W", heart_rate = "98 bpm", lactate = "1.2 mmol/L", rpe = 8 },
#     { power = "100 W", heart_rate = "106 bpm", lactate = "1.1 mmol/L", rpe = 9 },
#     # … one line per stage, up to well above the first rise of lactate
#   ]
# }
#
# In place of stages, data = "tests/steps.csv" reads a table that begins with this line:
# stage,power_w,duration_s,heart_rate_bpm,lactate_mmol_l,rpe_6_20
#
# band "now" {
#   athlete = athlete.sam
#   tests   = [test.steps]
# }

block "base" {
  title    = "Six easy weeks"
  aim      = "Ride three hours without hurry."
  athletes = [athlete.sam]
  start    = "2027-03-01" # weeks begin on this day of the week
  weeks    = 6

  volume {
    first   = "3 h 50 min" # the first week; or "100 % of recent"
    growth  = "15 min"     # what each loading week adds to the loading week before; or "6 %"
    at_most = "5 h"
  }

  recovery {
    weeks = [4]    # lighter weeks
    keep  = "60 %" # of the loading week before
  }

  # The mix: what a week's minutes are made of. These sessions come with the tool: steady, long_ride,
  # recovery_spin, cadence_work, progressive, upper_third, group_ride and commute.
  ride "long" {
    session  = session.long_ride
    per_week = 1
    share    = "40 %"
    days     = ["saturday"]
  }
  ride "steady" {
    session = session.steady
    share   = "rest" # what the other rides leave
  }

  # A week can have a note, a total of its own, or a ride on a given day.
  week "2" {
    note = "Eat something every half hour of the long ride."

    # hours    = "4 h 10 min"
    # saturday = { ride = "long", minutes = "105 min" }
  }

  # A test on its day. The same protocol again repeats the stages of the test before.
  #
  # test_day "retest" {
  #   protocol = protocol.lactate_step_submaximal
  #   week     = 4
  #   day      = "saturday"
  # }

  # A limit that you write is kept, or it is an error. One that you leave out is only advice;
  # "towpath rules" lists what is checked, and why.
  limits {
    weekly_growth = "10 %"
  }
}
