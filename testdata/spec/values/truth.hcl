athlete "ines" {
  power_meter      = "no"
  led_by_clinician = 1
}
