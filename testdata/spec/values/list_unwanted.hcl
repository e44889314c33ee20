athlete "ines" {
  mass    = ["58 kg"]
  meters  = [meter.pedals]
  longest = null
}
