session "a" {
  at_least = "2 h"
  at_most  = "1 h"

  step "work" {
    duration     = "20 min"
    position     = "33-67 %"
    of_threshold = "70 %"
  }
}

session "b" {
}

session "c" {
  repeat {
    times = 3
  }
  repeat {
    times = 0

    step "work" {
      duration = "fill"
      position = "33-67 %"
    }
  }
}

session "d" {
  step "one" {
    duration = "5 min"
    spare    = true
  }
  step "two" {
    duration = "5 min"
    spare    = true
  }
}

session "e" {
  step "work" {
    duration = "10 min"
    power    = "120 W"
  }
}
