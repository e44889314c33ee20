athlete "signe" {
  mass = "60 kg"
}
