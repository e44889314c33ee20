squad "north" {
}

athlete "ines" {
  shifts = { early = "75 min, 16:00" }

  fixed "commute" {
  }
}
