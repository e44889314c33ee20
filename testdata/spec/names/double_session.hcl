session "mine" {
  step "work" {
    duration = "fill"
    position = "33-67 %"
  }
}

session "mine" {
  step "work" {
    duration = "fill"
    position = "below"
  }
}
