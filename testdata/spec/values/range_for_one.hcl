athlete "ines" {
  mass = "60-62 kg"
}
