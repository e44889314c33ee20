# The sessions that every plan can name. A definition of the same name in a plan replaces one.

session "steady" {
  title    = "Steady"
  purpose  = "Time in the middle of the band: the bulk of the work, easy to repeat the day after tomorrow."
  feel     = "Even and unhurried: the last ten minutes feel like the first."
  if_wrong = "Above the limits for ten minutes: ride easier, and keep the time."
  at_least = "30 min"
  at_most  = "2 h 30 min"
  usual    = "60 min"

  step "warm_up" {
    duration     = "10 min"
    shape        = "rising"
    of_threshold = "50-70 %"
  }
  step "work" {
    duration = "fill"
    position = "33-67 %"
    cadence  = "80-95 rpm"
  }
  step "cool_down" {
    duration = "5 min"
    position = "below"
  }
}

session "long_ride" {
  title    = "Long ride"
  purpose  = "Hours in the saddle: the length is the work, the pace stays low."
  feel     = "As easy in the last hour as in the first; talk all the way."
  if_wrong = "Sentences get short, or the same pace costs more and more: ride home by the short way."
  at_least = "75 min"
  at_most  = "6 h"
  usual    = "3 h"

  step "warm_up" {
    duration     = "10 min"
    shape        = "rising"
    of_threshold = "50-70 %"
  }
  step "work" {
    duration = "fill"
    position = "0-67 %"
  }
  step "cool_down" {
    duration = "10 min"
    position = "below"
  }
}

session "recovery_spin" {
  title    = "Recovery spin"
  purpose  = "To move the legs without adding to the week. A day off is as good."
  feel     = "Almost too easy."
  if_wrong = "Not easy today: turn round and go home."
  at_least = "30 min"
  at_most  = "60 min"
  usual    = "45 min"

  step "work" {
    duration = "fill"
    position = "below"
    cadence  = "85-95 rpm"
  }
}

session "cadence_work" {
  title    = "Cadence"
  purpose  = "The same pace with quick and with slow legs, so that neither is a stranger."
  feel     = "The effort stays the same while the legs change."
  if_wrong = "A sore knee: leave out the slow parts."
  at_least = "45 min"
  at_most  = "2 h"
  usual    = "60 min"

  step "warm_up" {
    duration     = "10 min"
    shape        = "rising"
    of_threshold = "50-70 %"
  }
  repeat {
    times = "fill"

    step "quick" {
      duration = "5 min"
      position = "33-67 %"
      cadence  = "95-105 rpm"
    }
    step "slow" {
      duration = "5 min"
      position = "33-67 %"
      cadence  = "60-70 rpm"
    }
  }
  step "cool_down" {
    duration = "5 min"
    position = "below"
    spare    = true
  }
}

session "progressive" {
  title    = "Progressive"
  purpose  = "From the bottom of the band to its top in one ride, to learn what each part feels like."
  feel     = "Each part a little firmer; in the last one sentences are still whole."
  if_wrong = "The last part breaks your sentences: go back to the part before."
  at_least = "45 min"
  at_most  = "2 h 30 min"
  usual    = "75 min"

  step "warm_up" {
    duration     = "10 min"
    shape        = "rising"
    of_threshold = "50-70 %"
  }
  step "lower" {
    duration = "fill"
    position = "0-33 %"
  }
  step "middle" {
    duration = "fill"
    position = "33-67 %"
  }
  step "upper" {
    duration = "fill"
    position = "67-100 %"
  }
  step "cool_down" {
    duration = "5 min"
    position = "below"
  }
}

session "upper_third" {
  title    = "Upper third"
  purpose  = "More work per hour, still at a pace that lets you talk."
  feel     = "Firm, but whole sentences still come."
  if_wrong = "Sentences break: ride the rest as a steady ride."
  at_least = "45 min"
  at_most  = "100 min"
  usual    = "75 min"

  step "warm_up" {
    duration     = "10 min"
    shape        = "rising"
    of_threshold = "50-70 %"
  }
  repeat {
    times = "fill"

    step "work" {
      duration = "12 min"
      position = "67-100 %"
      cadence  = "85-95 rpm"
    }
    step "ease" {
      duration = "3 min"
      position = "below"
    }
  }
  step "cool_down" {
    duration = "5 min"
    position = "below"
    spare    = true
  }
}

# Only for riders whose band allows it: over = "sprints: 10 s, all out".
session "short_sprints" {
  title    = "Short sprints"
  purpose  = "A few seconds of full speed in an easy ride, so that the legs do not forget it. Too short to tire."
  feel     = "Each one quick and clean, then minutes so easy that you have forgotten it before the next."
  if_wrong = "Outdoors cold, wet, or no clear road: leave them out and ride easily. A sore knee or back, or legs that do not want to: stop sprinting for today."
  at_least = "50 min"
  at_most  = "2 h"
  usual    = "75 min"

  step "warm_up" {
    duration     = "15 min"
    shape        = "rising"
    of_threshold = "50-70 %"
  }
  repeat {
    times = 6

    step "sprint" {
      duration = "8 s"
      over     = "sprints"
      note     = "seated or standing; outdoors only where the road is straight and clear and nobody is near"
    }
    step "easy" {
      duration = "3 min 52 s"
      position = "below"
    }
  }
  step "work" {
    duration = "fill"
    position = "0-50 %"
  }
  step "cool_down" {
    duration = "5 min"
    position = "below"
  }
}

session "group_ride" {
  title    = "Group ride"
  purpose  = "Company. Sit in, take short turns, let gaps go."
  feel     = "You can talk to the rider beside you, most of the time."
  if_wrong = "The group is too fast for talk: wave, and ride your own pace."
  demand   = "demanding"
  at_least = "60 min"
  at_most  = "5 h"
  usual    = "2 h"

  step "work" {
    duration = "fill"
    position = "0-100 %"
  }
}

session "commute" {
  title    = "Commute"
  purpose  = "A way that has to be ridden anyway, ridden easily."
  feel     = "Arrive without having hurried."
  if_wrong = "Late: arrive late. It is better than hard."
  at_least = "30 min"
  at_most  = "90 min"
  usual    = "30 min"

  step "work" {
    duration = "fill"
    position = "below"
  }
}
