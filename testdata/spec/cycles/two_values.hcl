let {
  usual = minus(let.long, "30 min")
  long  = plus(let.usual, "30 min")
}
