# Half-way the watts are raised; heart rate and effort stay.
band "second" {
  raises   = band.first
  from     = "2026-10-26"
  by       = "3.05 %"
  evidence = "17 rides in 25 days: power at 118 bpm has risen, and effort there has not."
}
