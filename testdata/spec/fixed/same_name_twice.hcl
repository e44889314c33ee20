athlete "ines" {
  fixed "commute" {
    session = session.commute
    minutes = "50 min"
    days    = ["monday"]
  }
  fixed "commute" {
    session = session.commute
    minutes = "50 min"
    days    = ["friday"]
  }
}
