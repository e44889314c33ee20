athlete "ines" {
  device {
    leads = "power"
  }
  device {
    most_steps = 20
  }
}
