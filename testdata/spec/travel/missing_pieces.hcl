athlete "ines" {
  travel {
    from = "2026-10-18"
  }
}
