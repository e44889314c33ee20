athlete "ines" {
  sex        = female
  background = returning
}
