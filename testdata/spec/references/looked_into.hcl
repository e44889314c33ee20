athlete "ines" {
  mass = athlete.marta.mass
}
