for_athlete {
  athletes       = [athlete.joao]
  rides_per_week = 3
}
