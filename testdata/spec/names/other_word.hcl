athlete "ines" {
  age    = 47
  weight = "61 kg"
}
band "b" {
  effort = "9-12"
}
block "b" {
  start = "2026-10-05"
  end   = "2026-11-01"
  band "c" { power = "100-130 W" }
  volume { first = "5 h" }
  ride "steady" { session = session.steady }
}
