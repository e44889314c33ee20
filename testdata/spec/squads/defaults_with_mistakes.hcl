squad "north" {
  athletes = [athlete.signe]

  defaults {
    time_zone  = "Europe/Tallinn"
    background = "experienced"
    recent     = "5 h"

    days {
      mondya  = "60 min"
      tuesday = "60"
    }
  }
}
