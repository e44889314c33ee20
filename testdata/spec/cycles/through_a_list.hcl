let {
  weeks = ["4 h", let.last, "5 h"]
  last  = let.weeks[2]
}

athlete "ines" {
  recent = let.weeks
}
