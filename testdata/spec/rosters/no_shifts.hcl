athlete "ines" {
  roster {
    from = "2026-09-14"
    days = ["early", "late"]
  }
}
