athlete "ines" {
  age    = 47
  weight = "61 kg"
}
band "b" {
  effort = "9-12"
}
