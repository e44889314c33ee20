athlete "ines" {
  days {
    monday  = "25 min, commute, easy"
    tuesday = ["25 min, commute, indoor or 20 min outdoor", "75 min"]
  }
}

athlete "mare" {
  days {
    monday = ["25 min, commute, indoor", "75 min"]
  }
}
