protocol "kick_test" {
  demand = "maximal"

  step "kick" {
    duration = "10 s"
    over     = "sprints"
  }
}
