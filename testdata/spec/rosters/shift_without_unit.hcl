athlete "ines" {
  shifts = { early = 75, late = "75 min, 25:00" }

  roster {
    from = "2026-09-14"
    days = ["early", "late"]
  }
}
