athlete "ines" {
  fixed "commute" {
    days = ["monday"]
  }
}
