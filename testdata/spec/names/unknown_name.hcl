athlete "ines" {
  wieght = "61 kg"
}
