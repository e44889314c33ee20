let {
  base  = plus("60 min", "8 W")
  twice = scale(let.base, 2)
  all   = total([let.base, let.twice])
}

athlete "ines" {
  longest = let.all
  recent  = [let.base, let.twice, let.all]
}
