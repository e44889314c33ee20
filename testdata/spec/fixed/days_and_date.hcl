athlete "ines" {
  fixed "commute" {
    session = session.commute
    minutes = "50 min"
    days    = ["monday"]
    date    = "2026-10-10"
  }
}
