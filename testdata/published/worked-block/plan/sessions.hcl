session "endurance" {
  title    = "Endurance"
  purpose  = "Time in the upper half of the band."
  rpe      = 11
  at_least = "45 min"
  at_most  = "4 h"

  step "warm_up" {
    duration     = "10 min"
    of_threshold = "50-65 %"
  }
  step "work" {
    duration     = "fill"
    of_threshold = "80-90 %"
  }
  step "cool_down" {
    duration     = "5 min"
    of_threshold = "55 %"
  }
}

session "long" {
  title    = "Long ride"
  purpose  = "Time on the bicycle."
  rpe      = 11
  at_least = "45 min"
  at_most  = "4 h"

  step "warm_up" {
    duration     = "15 min"
    of_threshold = "60 %"
  }
  step "work" {
    duration     = "fill"
    of_threshold = "70-85 %"
  }
  step "cool_down" {
    duration     = "10 min"
    of_threshold = "55 %"
  }
}

session "spin" {
  title    = "Recovery spin"
  purpose  = "To move the legs."
  rpe      = 8
  at_least = "45 min"
  at_most  = "4 h"

  step "work" {
    duration     = "fill"
    of_threshold = "50-65 %"
  }
}

session "rpm" {
  title    = "Cadence"
  purpose  = "To pedal fast and slowly at the same watts."
  rpe      = 11
  at_least = "45 min"
  at_most  = "4 h"

  step "warm_up" {
    duration     = "10 min"
    of_threshold = "50-65 %"
  }
  step "work" {
    duration     = "fill"
    of_threshold = "75-90 %"
  }
  step "cool_down" {
    duration     = "5 min"
    of_threshold = "55 %"
  }
}

session "rising" {
  title    = "Progressive"
  purpose  = "A first half that leaves something for the second."
  rpe      = 11
  at_least = "45 min"
  at_most  = "4 h"

  step "warm_up" {
    duration     = "10 min"
    of_threshold = "50-65 %"
  }
  step "first_half" {
    duration     = "fill"
    of_threshold = "65-90 %"
  }
  step "second_half" {
    duration     = "fill"
    of_threshold = "80-95 %"
  }
  step "cool_down" {
    duration     = "5 min"
    of_threshold = "55 %"
  }
}

session "compared" {
  title    = "Ride to compare"
  purpose  = "The same watts each time."
  rpe      = 11
  at_least = "45 min"
  at_most  = "4 h"

  step "warm_up" {
    duration     = "15 min"
    of_threshold = "50-65 %"
  }
  step "low" {
    duration     = "10 min"
    of_threshold = "65-75 %"
  }
  step "middle" {
    duration     = "10 min"
    of_threshold = "75-85 %"
  }
  step "high" {
    duration     = "10 min"
    of_threshold = "85-95 %"
  }
  step "cool_down" {
    duration     = "fill"
    of_threshold = "60-70 %"
  }
}

protocol "stages" {
  title   = "Step test"
  purpose = "The test of the beginning again."
  demand  = "maximal"
  minutes = "75 min"
  rpe     = 15

  step "warm_up" {
    duration = "15 min"
    power    = "71 W"
  }
  step "stages" {
    duration = "36 min"
    power    = "140 W"
  }
  step "cool_down" {
    duration = "24 min"
    power    = "71 W"
  }
}

protocol "trials" {
  title   = "Three trials"
  purpose = "Critical power, from three efforts to the limit."
  demand  = "maximal"
  minutes = "105 min"
  rpe     = 17

  step "warm_up" {
    duration = "20 min"
    power    = "85 W"
  }
  step "trial" {
    duration = "3 min"
    power    = "262 W"
  }
  step "rest" {
    duration = "25 min"
    power    = "64 W"
  }
  step "trial" {
    duration = "7 min"
    power    = "224 W"
  }
  step "rest" {
    duration = "25 min"
    power    = "64 W"
  }
  step "trial" {
    duration = "12 min"
    power    = "210 W"
  }
  step "cool_down" {
    duration = "13 min"
    power    = "64 W"
  }
}
