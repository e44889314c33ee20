band "b" {
  athlete   = athlete.signe
  threshold = "142 W"
  long_rides = "128 W"
}
band "c" {
  athlete   = athlete.signe
  threshold = "142 W"
  long_rides = "120 %"
}
band "d" {
  athlete   = athlete.signe
  threshold = "142 W"
  long_rides = 0.9
}
