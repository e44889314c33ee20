session "kicks" {
  step "easy" {
    duration = "fill"
    position = "0-33 %"
  }
  step "kick" {
    duration = "10 s"
    over = "Sprints, all out"
  }
}
session "jumps" {
  step "easy" {
    duration = "fill"
    position = "0-33 %"
  }
  step "kick" {
    duration = "10 s"
    over = band.autumn
  }
}
