band "b" {
  athlete   = athlete.signe
  threshold = "142 W"
  over = { climbs = "3 min, 115 %" }
}
