athlete "ines" {
  device {
    leads      = "watts"
    letters    = "ascii"
    most_steps = 1
    heart_rate = "no"
  }

  calendar {
    hours    = "none"
    reminder = 30
  }
}
