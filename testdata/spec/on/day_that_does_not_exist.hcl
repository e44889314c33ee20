athlete "ines" {
  on = {
    "2027-02-25 to 2027-02-29" = "none"
    "25.4.2027 to 2027-04-27"  = "none"
  }
}
