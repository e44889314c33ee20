# The riders: what each has of his or her own, and the band of each. Who writes nothing has what the
# squad has. Nobody was tested in a laboratory: the coach typed the bands, from rides on which whole
# sentences still came easily.

athlete "anouk" {}

band "anouk" {
  athlete = athlete.anouk
  power   = "118-157 W"
}

athlete "bastian" {
  recent  = ["6 h", "5 h 30 min", "6 h", "6 h 15 min"]
  longest = "3 h"
}

band "bastian" {
  athlete = athlete.bastian
  power   = "139-186 W"
}

athlete "chiara" {
  recent = ["3 h 45 min", "4 h", "3 h 30 min", "4 h"]
}

band "chiara" {
  athlete = athlete.chiara
  power   = "103-137 W"
}

athlete "dominik" {
  power_meter = false
}

band "dominik" {
  athlete    = athlete.dominik
  heart_rate = "114-136 bpm"
}

athlete "elif" {
  time_zone = "Europe/Istanbul"
}

band "elif" {
  athlete = athlete.elif
  power   = "111-148 W"
}

athlete "fabio" {}

band "fabio" {
  athlete = athlete.fabio
  power   = "147-196 W"
}

athlete "greta" {
  background = "trained"
  recent     = ["7 h", "6 h 30 min", "7 h", "7 h"]
  longest    = "3 h 30 min"
}

band "greta" {
  athlete = athlete.greta
  power   = "126-168 W"
}

athlete "hakon" {
  time_zone = "Europe/Dublin"
}

band "hakon" {
  athlete = athlete.hakon
  power   = "152-203 W"
}

athlete "irma" {
  recent = ["3 h", "3 h 30 min", "4 h", "4 h"]
}

band "irma" {
  athlete = athlete.irma
  power   = "98-131 W"
}

athlete "jonas" {}

band "jonas" {
  athlete = athlete.jonas
  power   = "131-175 W"
}

athlete "katya" {
  days {
    saturday = "2 h 30 min, 09:00, outdoor"
    sunday   = "3 h"
  }
}

band "katya" {
  athlete = athlete.katya
  power   = "115-153 W"
}

athlete "lorenz" {
  power_meter = false
  on          = { "2027-02-13" = "none" }
}

band "lorenz" {
  athlete = athlete.lorenz
  rpe     = "9-12"
}
