squad "north" {
  athletes = [athlete.signe, athlete.joao, athlete.signe]
}
