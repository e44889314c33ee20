athlete "ines" {
  other {
    days = ["monday"]
  }
}
