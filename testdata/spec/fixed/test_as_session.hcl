athlete "ines" {
  fixed "commute" {
    session = protocol.lactate_step
    minutes = "50 min"
    days    = ["monday"]
  }
}
