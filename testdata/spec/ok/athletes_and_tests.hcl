athlete "ines" {
  name             = "Inês"
  born             = 2011
  sex              = "female"
  power_meter      = false
  meters           = { outdoor = meter.pedals, indoor = meter.trainer }
  guardian_consent = true

  heart_rate {
    resting = "49 bpm"
    maximum = "199 bpm"
    from    = test.steps
    usable  = false
  }
  screening {
    on     = "2026-09-03"
    until  = "2027-09-03"
    by     = "own clinician"
    allows = "easy riding only"
  }
}

meter "trainer" {
  kind     = "trainer"
  reads    = "-1.8 %"
  against  = meter.pedals
  compared = "2026-08-27"
}

test "by_lab" {
  athlete  = athlete.ines
  date     = "2026-09-26"
  protocol = protocol.mine
  stage    = "4 min"

  read_by_lab {
    first_threshold = "134 W"
    heart_rate      = "126 bpm"
    method          = "by eye"
  }
}

band "raised" {
  athlete  = athlete.signe
  from     = "2026-10-12"
  raises   = band.autumn
  by       = "1.8 %"
  evidence = "13 rides"
}

band "typed" {
  athlete    = athlete.ines
  heart_rate = "110–128 bpm"
  rpe        = "9-12"
  leads      = "heart rate"
}

protocol "mine" {
  demand = "submaximal"

  repeat {
    times  = 3
    rising = "15 W"

    step "stage" {
      duration = "4 min"
      power    = "100 W"
    }
    repeat {
      times = 2

      step "burst" {
        duration = "10 s"
        all_out  = true
      }
    }
  }
}
