athlete "ines" {
  device {
    most_steps = "30"
  }
  calendar {
    reminder = "half an hour"
    remind   = "30 min"
  }
}
