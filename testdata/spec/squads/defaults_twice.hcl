squad "north" {
  athletes = [athlete.signe]

  defaults {
    longest = "2 h"
  }
  defaults {
    power_meter = false
  }
}
