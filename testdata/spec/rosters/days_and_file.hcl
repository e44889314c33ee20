athlete "ines" {
  shifts = { early = "75 min, 16:00", night = "40 min, 15:30, indoor, easy", off = "none" }

  roster {
    from = "2026-09-14"
    days = ["early"]
    file = "roster.csv"
  }
}
