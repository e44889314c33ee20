athlete "ines" {
  fixed "commute" {
    session = session.comute
    minutes = 50
    days    = ["Mondays", "wensday"]
    at      = "7.30"
    place   = "outside"
  }
}
