let {
  week = { long = "2 h" }
  list = ["1 h"]
  key  = "long"
}

athlete "ines" {
  longest = let.list[let.key]
  name    = let.week[0]
  recent  = [[let.list][0][0], athlete.signe[let.key], let.week[let.key], "x".y]
}
