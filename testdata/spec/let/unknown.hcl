let {
  usual = "60 min"
}

athlete "ines" {
  longest      = let.usal
  recent_until = usual
  mass         = let.zzz
  recent       = [let]
}
