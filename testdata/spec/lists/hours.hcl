athlete "ines" {
  recent = ["4 h 30 min", true, ["5 h"], { hours = "5 h" }, null, session.steady]
}
