athlete "ines" {
  mass = athlete.signe.mass
}
