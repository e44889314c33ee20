let {
  week  = { long = "2 h", easy = "1 h" }
  hours = ["1 h", "2 h"]
}

athlete "ines" {
  longest = let.week.lon
  recent  = [let.hours[2], let.week["long"], let.hours.first]
  name    = athlete.signe["name"]
}
