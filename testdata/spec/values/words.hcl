athlete "ines" {
  sex        = "Female"
  background = "pro"
}

session "mine" {
  demand = "demandig"

  step "work" {
    duration = "fil"
    position = "belwo"
    shape    = "growing"
  }
}
