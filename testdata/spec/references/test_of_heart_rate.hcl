athlete "ines" {
  heart_rate {
    maximum = "180 bpm"
    from    = "mesured"
  }
}

athlete "ana" {
  heart_rate {
    maximum = "180 bpm"
    from    = meter.pedals
  }
}
