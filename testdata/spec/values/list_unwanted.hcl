athlete "ines" {
  mass    = ["58 kg"]
  meters  = [meter.pedals]
  longest = null
  days { monday = ["40 min, 07:00", "40 min, 17:30"] }
}
