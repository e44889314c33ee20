athlete "ines" {
  wieght = "58 kg"
}
