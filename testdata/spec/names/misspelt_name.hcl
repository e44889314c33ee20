athlete "ines" {
  maas = "58 kg"
}
