athlete "ines" {
  heart_rate {
    resting = "180 bpm"
    maximum = "49 bpm"
  }
  screening {
    on     = "2026-09-03"
    until  = "2026-08-27"
    allows = "maximal"
  }
}

meter "trainer" {
  reads = "-1.8 %"
}

meter "hub" {
  reads   = "1 %"
  against = meter.hub
}
