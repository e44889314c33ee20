athlete "ines" {
  shifts = { early = "70 min, 15:20" }

  roster "autumn" {
    from = "2026-09-14"
    days = ["early"]
  }
}
