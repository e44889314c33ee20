band "b" {
  athlete   = athlete.signe
  threshold = "142 W"
  over = ["climbs: 115 %", "sprints: 0 s, all out", "kicks: 10 s"]
}
