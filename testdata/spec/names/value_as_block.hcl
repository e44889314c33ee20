athlete "ines" {
  meters {
    outdoor = meter.pedals
  }
}
