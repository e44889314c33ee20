band "b" {
  athlete   = athlete.signe
  threshold = "142 W"
  place = "laboratory"
}
band "c" {
  athlete   = athlete.signe
  threshold = "142 W"
  place = ["indoor", "outdoor"]
}
