squad "north" {
  athletes = [athlete.signe, athlete.joao]

  defaults {
    shifts = { early = "75 min", late = "40 min" }

    roster {
      from = "2026-09-14"
      days = ["early", "lat"]
    }
  }
}
