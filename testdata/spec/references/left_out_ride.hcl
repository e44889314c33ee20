block "spring" {
  start = "2027-03-01"
  weeks = 4

  volume { first = "4 h" }
  ride "cadence" { session = session.cadence_work }
  recovery {
    weeks   = [4]
    without = ["cadense", "long"]
  }
}
