squad "north" {
  athletes = [athlete.singe, "joao", joao, meter.pedals]
}
