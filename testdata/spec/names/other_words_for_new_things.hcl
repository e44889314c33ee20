athlete "ines" {
  holiday = ["2026-12-24"]

  work {
    days = ["monday"]
  }
  sport "climbing" {
    days = ["monday"]
  }
  calendar {
    alarm = "30 min"
  }
}

team "north" {
  members = [athlete.signe]
}

squad "south" {
  name   = "South"
  riders = [athlete.signe]
}

race "hill" {
  athletes = [athlete.signe]
  date = "2026-12-12"
}

event "lake" {
  name     = "Round the lake"
  athletes = [athlete.signe]
  date     = "2026-12-12"
  duration = "6 h"
}

block "b" {
  team  = [squad.south]
  start = "2026-10-05"
  weeks = 8

  volume {
    first = "5 h"
    slack = "15 %"
  }
  recovery {
    weeks = [4]
    skip  = ["long"]
  }
  override {
    athletes = [athlete.signe]
    without  = ["long"]
  }
}

band "b" {
  athlete   = athlete.signe
  threshold = "142 W"
  allowance = "climbs: 3 min, 115 %"
}
