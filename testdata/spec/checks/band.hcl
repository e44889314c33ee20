band "nothing" {
  athlete = athlete.marta
  caution = "strict"
}

band "two_ways" {
  athlete = athlete.marta
  tests   = [test.steps]
  power   = "100-130 W"
}

band "raise" {
  athlete = athlete.marta
  raises  = band.raise
  by      = "2 %"
}

band "by_alone" {
  athlete = athlete.marta
  power   = "100-130 W"
  by      = "2 %"
}

band "whose" {
  power = "100-130 W"
}
