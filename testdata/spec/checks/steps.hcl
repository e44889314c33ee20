session "a" {
  step "work" {
    duration = "fill"
    position = "-10-33 %"
    spare    = true
  }
  step "late" {
    duration = "10 min"
    position = "50-120 %"
  }
  repeat {
    times = 2

    repeat {
      times = "fill"

      step "work" {
        duration = "5 min"
        position = "below"
      }
    }
  }
}

protocol "b" {
  demand = "maximal"

  step "work" {
    duration = "3 min"
    all_out  = true
    power    = "200 W"
  }
}
