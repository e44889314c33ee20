squad "north" {
  athletes = [athlete.signe]

  defaults {
    mass = "60 kg"
    born = 1990

    heart_rate {
      resting = "50 bpm"
    }
  }
}
