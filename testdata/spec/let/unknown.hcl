let {
  usual = "60 min"
}

athlete "ines" {
  longest = let.usal
  mass    = let.zzz
  recent  = [usual, let]
}
