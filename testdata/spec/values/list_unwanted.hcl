athlete "ines" {
  mass    = ["61 kg"]
  meters  = [meter.pedals]
  longest = null
}
