athlete "ines" {
  shifts = { early = "70 min, 15:20", night = "45 min, 14:40, indoor, easy", off = "none" }

  roster {
    days = ["early", "off"]
  }
}
