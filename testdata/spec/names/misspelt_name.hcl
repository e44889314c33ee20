athlete "ines" {
  maas = "61 kg"
}
