athlete "ines" {
  other "climbing" {
    days = ["monday"]
    date = "2026-10-10"
  }
}
