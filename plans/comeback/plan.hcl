# A rider comes back after a season away. The laboratory has seen him once, lactate steps and a ramp
# with breath gas in one visit. Eight to twelve easy weeks follow; their number is decided in week 6.
# Change the figures to those of your rider, then run "towpath check" in this folder. What stands
# behind a "#" is for people only.
#
# This is training advice, not medical advice, and it clears nobody to ride. Pain or pressure in the
# chest, faintness, breath that is short without reason: stop, and get help. With a fever: no riding.
# Write no diagnosis, address or full name into this file.

language = 1
id       = "w8n3tz6e" # this plan's own name, drawn once. Keep it: calendar entries are known by it

athlete "ruben" {
  time_zone  = "America/Montevideo"
  background = "returning"
  recent     = ["1 h 30 min", "2 h 45 min", "3 h 15 min", "3 h 45 min"] # since he rides again
  longest    = "75 min"                                                 # of the last 30 days

  heart_rate {
    resting = "56 bpm"
    maximum = "188 bpm"
    from    = test.ramp
  }
  # Both tests go to the limit. A screening says what it allows, never why.
  screening {
    on     = "2027-01-06"
    allows = "maximal"
  }
  days {
    tuesday  = "75 min, 19:00, indoor"
    thursday = "75 min, 19:00"
    saturday = "3 h, 08:30, outdoor or 90 min indoor"
    sunday   = "2 h, 09:00"
  }
}

# One visit. The band is made from the lactate steps, read by the tool; of the ramp stands here what
# the laboratory itself read.
test "steps" {
  date     = "2027-01-09"
  protocol = protocol.lactate_step
  analyser = "bench"
  data     = "steps.csv"
}

test "ramp" {
  date     = "2027-01-09"
  protocol = protocol.gas_ramp
  ramp     = "20 W/min"

  read_by_lab {
    first_threshold    = "168 W"
    second_threshold   = "236 W"
    maximum_heart_rate = "188 bpm"
    peak_power         = "312 W"
  }
}

band "winter" { tests = [test.steps] }

block "back" {
  start  = "2027-01-18" # weeks begin on its day of the week
  weeks  = "8-12"       # twelve are planned; those after the eighth are provisional
  decide = 6            # the week in which their number is decided

  volume {
    first  = "3 h 30 min"
    growth = "20 min" # over the loading week before
  }
  recovery {
    weeks   = [4, 8, "last"]
    without = ["long"]
  }
  ride "long" {
    session = session.long_ride
    share   = "35 %"
    days    = ["saturday"]
  }
  ride "steady" { session = session.steady }

  # The same watts at the same hour each week: a lower heart rate is what there is to see.
  test_day "standard" {
    protocol = protocol.standard_ride
    weeks    = "1-11"
    day      = "tuesday"
  }
  # The test of the laboratory again, in the last week: it moves with the number of weeks.
  test_day "retest" {
    protocol = protocol.lactate_step
    week     = "last"
    day      = "saturday"
  }
}
