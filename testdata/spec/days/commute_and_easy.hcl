athlete "ines" {
  days {
    monday  = "25 min, commute, easy"
    tuesday = ["25 min, commute, outdoor or 20 min indoor", "75 min"]
  }
}
