# One session that the library lacks. Those it has, session.steady and others, can be named without
# being written.

session "long_blocks" {
  title    = "Two long blocks"
  purpose  = "Twenty minutes at a time near the top of the band: the pace of a long climb that never gets hard."
  feel     = "Firm and even. Whole sentences, to the end of each block."
  if_wrong = "The second block costs more than the first: ride it like a steady ride."
  at_least = "60 min"
  at_most  = "90 min"
  usual    = "75 min"

  step "warm_up" {
    duration     = "12 min"
    shape        = "rising"
    of_threshold = "50-70 %"
  }
  repeat {
    times = 2

    step "work" {
      duration = "20 min"
      position = "70-100 %"
      cadence  = "75-90 rpm"
    }
    step "ease" {
      duration = "4 min"
      position = "below"
    }
  }
  step "cool_down" {
    duration = "8 min"
    position = "below"
    spare    = true
  }
}
