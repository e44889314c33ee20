athlete "ines" {
  recent_until = 2026-09-13

  screening {
    on     = "2026-02-30"
    until  = "30.8.2027"
    allows = "maximal"
  }
  on = {
    2026-10-06 = "none"
  }
}
