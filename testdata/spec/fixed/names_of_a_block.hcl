athlete "ines" {
  fixed "commute" {
    session  = session.commute
    minutes  = "50 min"
    days     = ["monday"]
    weeks    = [1, 2]
    athletes = [athlete.signe]
  }
}
