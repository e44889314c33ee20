band "nothing" {
  athlete = athlete.signe
  caution = "strict"
}

band "two_ways" {
  athlete = athlete.signe
  tests   = [test.steps]
  power   = "100-130 W"
}

band "raise" {
  athlete = athlete.signe
  raises  = band.raise
  by      = "2 %"
}

band "by_alone" {
  athlete = athlete.signe
  power   = "100-130 W"
  by      = "2 %"
}

band "whose" {
  power = "100-130 W"
}

band "above" {
  athlete = athlete.signe
  tests   = [test.steps]
  ceiling = "110 %"
}
