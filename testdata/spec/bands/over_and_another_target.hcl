session "kicks" {
  step "easy" {
    duration = "fill"
    position = "0-33 %"
  }
  step "kick" {
    duration = "10 s"
    over     = "sprints"
    position = "67-100 %"
  }
}
