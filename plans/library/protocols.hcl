# Tests as sessions to ride. Where an athlete has done the same protocol before, the stages are
# those of that test: a retest repeats its baseline. Maximal tests want a screening statement.

protocol "lactate_step" {
  title    = "Lactate step test"
  purpose  = "To find where the low-intensity band ends, from blood lactate at rising power."
  demand   = "maximal"
  minutes  = "75 min"
  stop     = "Lactate above 4 mmol/L, a power that you cannot hold, or the tester's word."
  feel     = "Easy for half of the test, then harder every stage."
  if_wrong = "Ill, feverish or badly slept: do not test, tell the coach."

  step "warm_up" {
    duration     = "10 min"
    of_threshold = "45-50 %"
  }
  repeat {
    times  = 10
    rising = "20 W"

    step "stage" {
      duration     = "4 min"
      of_threshold = "50 %"
    }
  }
  step "cool_down" {
    duration = "fill"
    position = "below"
  }
}

protocol "lactate_step_submaximal" {
  title    = "Lactate step test, submaximal"
  purpose  = "To find where the low-intensity band ends without going to the limit."
  demand   = "submaximal"
  minutes  = "60 min"
  stop     = "Lactate 1 mmol/L above its lowest value, or an effort of 14."
  feel     = "Never hard."
  if_wrong = "Ill, feverish or badly slept: do not test, tell the coach."

  step "warm_up" {
    duration     = "10 min"
    of_threshold = "45-50 %"
  }
  repeat {
    times  = 8
    rising = "15 W"

    step "stage" {
      duration     = "4 min"
      of_threshold = "50 %"
    }
  }
  step "cool_down" {
    duration = "fill"
    position = "below"
  }
}

protocol "gas_ramp" {
  title    = "Ramp test with breath gas"
  purpose  = "To find both ventilatory thresholds and the peak."
  demand   = "maximal"
  minutes  = "45 min"
  stop     = "A power that you cannot hold, or the tester's word."
  feel     = "Short and hard at the end."
  if_wrong = "Ill, feverish or badly slept: do not test, tell the coach."

  step "warm_up" {
    duration     = "10 min"
    of_threshold = "50 %"
  }
  repeat {
    times  = 20
    rising = "20 W"

    step "stage" {
      duration     = "1 min"
      of_threshold = "50 %"
    }
  }
  step "cool_down" {
    duration = "fill"
    position = "below"
  }
}

protocol "efforts" {
  title    = "Two maximal efforts"
  purpose  = "To find critical power and the work that can be done above it."
  demand   = "maximal"
  minutes  = "90 min"
  stop     = "At any warning sign; otherwise ride each effort to its end."
  feel     = "Even pace, nothing left at the end."
  if_wrong = "Ill, feverish or badly slept: do not test, tell the coach."

  step "warm_up" {
    duration     = "20 min"
    shape        = "rising"
    of_threshold = "50-90 %"
  }
  step "effort" {
    duration = "3 min"
    all_out  = true
  }
  step "rest" {
    duration = "30 min"
    position = "below"
  }
  step "effort" {
    duration = "12 min"
    all_out  = true
  }
  step "cool_down" {
    duration = "fill"
    position = "below"
  }
}

protocol "all_out_3min" {
  title    = "Three minutes all out"
  purpose  = "One effort from which the end power and the work above it are read."
  demand   = "maximal"
  minutes  = "45 min"
  stop     = "At any warning sign; otherwise no pacing, from the first second to the last."
  feel     = "All out at once, and hold on."
  if_wrong = "Ill, feverish or badly slept: do not test, tell the coach."

  step "warm_up" {
    duration     = "20 min"
    shape        = "rising"
    of_threshold = "50-90 %"
  }
  step "effort" {
    duration = "3 min"
    all_out  = true
  }
  step "cool_down" {
    duration = "fill"
    position = "below"
  }
}

protocol "sprint_30s" {
  title    = "Thirty seconds all out"
  purpose  = "Peak and mean power of a sprint."
  demand   = "maximal"
  minutes  = "40 min"
  stop     = "At any warning sign."
  feel     = "All out."
  if_wrong = "Ill, feverish or badly slept: do not test, tell the coach."

  step "warm_up" {
    duration     = "20 min"
    shape        = "rising"
    of_threshold = "50-90 %"
  }
  step "effort" {
    duration = "30 s"
    all_out  = true
  }
  step "cool_down" {
    duration = "fill"
    position = "below"
  }
}

protocol "talk_test" {
  title    = "Talk test"
  purpose  = "To find the highest power at which whole sentences come easily."
  demand   = "submaximal"
  minutes  = "60 min"
  stop     = "The stage at which you are no longer sure that you can talk."
  feel     = "Read the same forty words aloud at the end of each stage."
  if_wrong = "Ill, feverish or badly slept: do not test, tell the coach."

  step "warm_up" {
    duration     = "10 min"
    of_threshold = "45-50 %"
  }
  repeat {
    times  = 8
    rising = "15 W"

    step "stage" {
      duration     = "4 min"
      of_threshold = "55 %"
    }
  }
  step "cool_down" {
    duration = "fill"
    position = "below"
  }
}

protocol "drift_ride" {
  title    = "Heart-rate drift ride"
  purpose  = "To see whether the heart rate climbs at the same pace."
  demand   = "submaximal"
  minutes  = "90 min"
  stop     = "At an effort of 13."
  feel     = "Steady, with a fan and a bottle."
  if_wrong = "In heat or without sleep the ride says nothing: do it another day."

  step "warm_up" {
    duration     = "15 min"
    shape        = "rising"
    of_threshold = "50-70 %"
  }
  step "work" {
    duration = "60 min"
    position = "33-67 %"
  }
  step "cool_down" {
    duration = "fill"
    position = "below"
  }
}

# The watts of the block's first band, every time: what changes is the heart rate.
protocol "standard_ride" {
  title       = "Standard ride"
  purpose     = "The same ride at the same place and hour, so that weeks can be compared."
  demand      = "submaximal"
  keeps_watts = true
  minutes     = "60 min"
  stop        = "At an effort of 13."
  feel        = "As on any easy day."
  if_wrong    = "Ill: no riding. Very tired: ride easily and say so; it is no measurement today."

  step "warm_up" {
    duration     = "12 min"
    shape        = "rising"
    of_threshold = "50-65 %"
  }
  step "first" {
    duration = "12 min"
    position = "10-30 %"
  }
  step "second" {
    duration = "12 min"
    position = "40-60 %"
  }
  step "third" {
    duration = "12 min"
    position = "70-90 %"
  }
  step "cool_down" {
    duration = "fill"
    position = "below"
  }
}
