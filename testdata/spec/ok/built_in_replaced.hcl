session "steady" {
  title = "Steady, our way"

  step "work" {
    duration = "fill"
    position = "40-60 %"
  }
}
