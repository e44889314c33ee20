block "autumn" {
  title = "Autumn base"
  start = "2026-09-28"
  weeks = 8

  volume { first = "6 h 30 min" }

  recovery {
    weeks = [4, 8]
    keep  = "65 %"
  }

  ride "endurance" { session = session.endurance }

  test_day "stages" {
    protocol = protocol.stages
    week     = 8
    day      = "thursday"
  }
  test_day "trials" {
    protocol = protocol.trials
    week     = 8
    day      = "sunday"
  }

  week "1" {
    hours     = "6 h 30 min"
    tuesday   = { session = session.rpm, minutes = "60 min" }
    wednesday = { session = session.endurance, minutes = "75 min" }
    thursday  = { session = session.endurance, minutes = "60 min" }
    saturday  = { session = session.long, minutes = "2 h" }
    sunday    = { session = session.rising, minutes = "75 min" }
  }
  week "2" {
    hours     = "7 h 15 min"
    tuesday   = { session = session.rpm, minutes = "60 min" }
    wednesday = { session = session.endurance, minutes = "90 min" }
    thursday  = { session = session.endurance, minutes = "60 min" }
    saturday  = { session = session.long, minutes = "2 h 20 min" }
    sunday    = { session = session.rising, minutes = "85 min" }
  }
  week "3" {
    hours     = "8 h"
    tuesday   = { session = session.rpm, minutes = "70 min" }
    wednesday = { session = session.endurance, minutes = "90 min" }
    thursday  = { session = session.endurance, minutes = "70 min" }
    saturday  = { session = session.long, minutes = "2 h 40 min" }
    sunday    = { session = session.rising, minutes = "90 min" }
  }
  week "4" {
    hours     = "5 h 15 min"
    tuesday   = { session = session.spin, minutes = "45 min" }
    wednesday = { session = session.endurance, minutes = "60 min" }
    thursday  = { session = session.spin, minutes = "45 min" }
    saturday  = { session = session.compared, minutes = "75 min" }
    sunday    = { session = session.endurance, minutes = "90 min" }
  }
  week "5" {
    hours     = "8 h"
    tuesday   = { session = session.rpm, minutes = "70 min" }
    wednesday = { session = session.endurance, minutes = "90 min" }
    thursday  = { session = session.endurance, minutes = "70 min" }
    saturday  = { session = session.long, minutes = "2 h 45 min" }
    sunday    = { session = session.rising, minutes = "85 min" }
  }
  week "6" {
    hours     = "8 h 45 min"
    tuesday   = { session = session.rpm, minutes = "75 min" }
    wednesday = { session = session.endurance, minutes = "90 min" }
    saturday  = { session = session.long, minutes = "3 h 30 min" }
    sunday    = { session = session.rising, minutes = "2 h 30 min" }
  }
  week "7" {
    hours     = "9 h 30 min"
    tuesday   = { session = session.rpm, minutes = "75 min" }
    wednesday = { session = session.endurance, minutes = "90 min" }
    thursday  = { session = session.endurance, minutes = "75 min" }
    friday    = { session = session.spin, minutes = "45 min" }
    saturday  = { session = session.long, minutes = "3 h 15 min" }
    sunday    = { session = session.rising, minutes = "90 min" }
  }
  week "8" {
    hours     = "5 h 30 min"
    tuesday   = { session = session.endurance, minutes = "60 min" }
    wednesday = { session = session.spin, minutes = "45 min" }
    saturday  = { session = session.spin, minutes = "45 min" }
  }

  limits {
    weekly_growth = "10 %"
    session_spike = "30 min"
    two_days      = "60 %"
    when_broken   = "warn"
  }

  waive "durability-cap" { reason = "The script caps no ride, however long." }
}
