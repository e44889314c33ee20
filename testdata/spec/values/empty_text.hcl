session "mine" {
  title = " "

  step "work" {
    duration = "fill"
  }
}
