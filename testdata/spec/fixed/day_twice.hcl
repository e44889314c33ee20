athlete "ines" {
  fixed "commute" {
    session = session.commute
    minutes = "50 min"
    days    = ["monday", "tuesday", "monday"]
  }
}
