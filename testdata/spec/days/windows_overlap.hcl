athlete "ines" {
  days {
    monday  = ["90 min, 17:30", "25 min, 07:30, commute"]
    tuesday = ["60 min, 17:30", "75 min, 18:00"]
  }
}
