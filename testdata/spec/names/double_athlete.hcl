athlete "marta" {
  mass = "60 kg"
}
