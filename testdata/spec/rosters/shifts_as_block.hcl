athlete "ines" {
  shifts {
    early = "75 min"
  }
}
