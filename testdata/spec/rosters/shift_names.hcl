athlete "ines" {
  shifts = { Early = "75 min", "late shift" = "40 min", late = "40 min", late = "none" }
}
