athlete "ines" {
  mass = "\u0036\u0031 stone"
  name = "Inês \"Né\""
  sex  = ""
  days {
    monday = "60\u0020min, Ñandú"
  }
}
