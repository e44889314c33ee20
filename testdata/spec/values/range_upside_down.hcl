session "mine" {
  step "work" {
    duration = "fill"
    position = "67-33 %"
  }
}
