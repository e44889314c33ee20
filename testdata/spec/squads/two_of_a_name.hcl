squad "north" {
  athletes = [athlete.signe]
}
squad "north" {
  athletes = [athlete.joao]
}
