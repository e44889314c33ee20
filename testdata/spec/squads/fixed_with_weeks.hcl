squad "north" {
  athletes = [athlete.signe]

  fixed "group" {
    session  = session.group_ride
    minutes  = "2 h"
    days     = ["sunday"]
    weeks    = [1, 2]
    athletes = [athlete.signe, athlete.signe]
  }
}
