athlete "ines" {
  roster = ["early", "late"]
}
