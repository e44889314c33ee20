athlete "ines" {
  other "climbing" {
    days    = ["monday"]
    demand  = "hard"
    minutes = "1.5"
  }
}
