# Ten weeks to a 200 km brevet at the end of May: hours first, a little more work per hour in the
# middle, and a test at the end that repeats the one in February.

block "spring" {
  title    = "Hours for the long day"
  aim      = "Ride 200 km in May at an even pace."
  athletes = [athlete.maren]
  start    = "2027-03-01"
  weeks    = 10

  volume {
    first   = "105 % of recent"
    growth  = "25 min" # over the loading week before
    at_most = "8 h"
  }

  recovery {
    weeks = [4, 7, 10]
    keep  = "60 %"
  }

  rides_per_week = "4-5"

  # How a week's minutes are shared out.
  ride "long" {
    session  = session.long_ride
    per_week = 1
    share    = "40 %"
    days     = ["saturday", "sunday"]
  }
  ride "blocks" {
    session  = session.long_blocks
    per_week = 1
    minutes  = "75 min"
    weeks    = "2-3, 5-6, 8-9"
    days     = ["wednesday"]
  }
  ride "steady" {
    session = session.steady
    share   = "rest"
  }

  # The same watts at the same hour each week, so that weeks can be compared.
  test_day "standard" {
    protocol = protocol.standard_ride
    weeks    = "1-6, 8-9"
    day      = "tuesday"
    meter    = meter.trainer
  }
  test_day "retest" {
    protocol = protocol.lactate_step
    week     = 10
    day      = "saturday"
    at       = "10:30"
    place    = "laboratory"
    meter    = meter.crank
  }

  # Weeks in the coach's own hand.
  week "3" {
    note = "Practise eating: a bite at each village sign on the long ride."
  }
  week "6" {
    hours    = "7 h"
    note     = "The long ride has a railway station every ten kilometres: turn round when it stops being easy."
    saturday = { ride = "long", minutes = "3 h" }
  }

  limits {
    weekly_growth = "10 %"
    long_share    = "50 %"
  }

  # The one long step of the block, taken on purpose and said so.
  waive "session-spike" {
    weeks  = 6
    reason = "A flat road beside the railway, in company; the rest of the week stays short."
  }
}
