let {
  usual = "60 min"
}

let {
  usual = "75 min"
}
