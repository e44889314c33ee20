let {
  usual = plus(let.usual, "5 min")
}

athlete "ines" {
  longest = let.usual
}
