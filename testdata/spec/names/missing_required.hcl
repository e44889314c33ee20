block "b" {
  title = "Without a start"

  ride "steady" {
    share = "40 %"
  }
}

protocol "p" {
  step "work" {
    position = "below"
  }
}
