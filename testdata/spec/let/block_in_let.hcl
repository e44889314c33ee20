let "mine" {
  usual = "60 min"
  step "x" {
  }
}
