squad "north" {
  athletes = []
}
