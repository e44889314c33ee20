let {
  usual = "60 minuets"
  tests = ["140 W", "150 bpm"]
}

athlete "ines" {
  longest = let.usual
  mass    = let.tests[1]
  recent  = let.tests
}
