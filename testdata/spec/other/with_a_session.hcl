athlete "ines" {
  other "climbing" {
    days    = ["monday"]
    session = session.steady
  }
}
