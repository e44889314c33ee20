band "b" {
  athlete   = athlete.signe
  threshold = "142 W"
  over = ["climbs 3 min 115 %", "Climbs: 3 min, 115 %", "climbs: 3 mins, 115 %", "climbs: 3 min, 160 W", "sprints: 10 s, al out"]
}
