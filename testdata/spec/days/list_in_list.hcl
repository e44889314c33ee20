athlete "ines" {
  days {
    monday = [["25 min"], "75 min"]
  }
}
