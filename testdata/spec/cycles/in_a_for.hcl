let {
  days = [for d in let.open : d]
  open = [for d in let.days : d if d != "monday"]
}
