# What is true of the rider: her days, her test and the band made from it. What is asked of her
# stands in block.hcl.

language = 1
id       = "vq4m7c2x"

athlete "maren" {
  born       = 1976
  sex        = "female"
  mass       = "63 kg"
  time_zone  = "Europe/Oslo"
  background = "regular"
  recent     = ["5 h 10 min", "5 h 30 min", "4 h 50 min", "5 h 30 min"] # the four weeks before the block
  longest    = "2 h 20 min"                                             # of the last 30 days
  meters     = { outdoor = meter.crank, indoor = meter.trainer }

  heart_rate {
    resting = "51 bpm"
    maximum = "177 bpm"
    from    = "measured"
  }

  screening {
    on     = "2027-01-18"
    until  = "2028-01-18"
    by     = "sports clinic"
    allows = "maximal"
  }

  # What a day can hold: minutes, hour, place. Days that are not named are rest days.
  days {
    tuesday   = "75 min, 18:15, indoor"
    wednesday = "90 min, 18:00"
    friday    = "60 min, 06:45, indoor"
    saturday  = "5 h, 09:00, outdoor or 2 h indoor"
    sunday    = "2 h 30 min, 09:30, outdoor"
  }

  # Days that differ.
  on = {
    "2027-03-26" = "none" # Good Friday with the family
    "2027-04-13" = "none" # two nights away
    "2027-04-14" = "none"
  }
}

meter "crank" { kind = "crank" }

meter "trainer" {
  kind     = "trainer"
  reads    = "-1.5 %"
  against  = meter.crank
  compared = "2027-02-06"
}

test "steps_february" {
  athlete  = athlete.maren
  date     = "2027-02-13"
  protocol = protocol.lactate_step
  meter    = meter.crank
  place    = "laboratory"
  stage    = "5 min"
  site     = "earlobe"
  analyser = "bench"
  data     = "tests/2027-02-13-steps.csv"

  # What the laboratory read by eye from the same curve. It is kept, and changes nothing.
  read_by_lab {
    first_threshold = "150 W"
    heart_rate      = "127 bpm"
    method          = "by eye"
  }
}

# The median of three readings of the lactate curve, less a part of its error, is the ceiling.
band "spring" {
  athlete = athlete.maren
  tests   = [test.steps_february]
}
