athlete "ines" {
  shifts = { early = "75 min, 16:00" }

  roster "autumn" {
    from = "2026-09-14"
    days = ["early"]
  }
}
