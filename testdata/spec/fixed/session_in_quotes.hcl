athlete "ines" {
  fixed "commute" {
    session = "commute"
    minutes = "50 min"
    days    = ["monday"]
  }
}
