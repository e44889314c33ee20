let {
  usual = "60 min"
  half  = 0.5
}

athlete "ines" {
  longest = let.usual + "15 min"
  recent  = ["2 h" - "15 min", let.usual * 1.5, 2 * "1 h", "3 h" / 2]
  name    = "Ines" + "Silva"
  mass    = "60 kg" % 2
}
