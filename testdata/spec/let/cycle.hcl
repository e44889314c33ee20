let {
  a = plus(let.b, "1 h")
  b = let.c
}

let {
  c    = scale(let.a, 2)
  self = let.self
}

athlete "ines" {
  longest = let.a
}
