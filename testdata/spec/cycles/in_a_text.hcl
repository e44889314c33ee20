let {
  minutes = "${let.words} min"
  words   = "at least ${let.minutes}"
}
