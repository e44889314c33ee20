athlete "ines" {
  recent = [for x in "1 h" : x]
}

athlete "ana" {
  recent = [for i in [1, 2, 3] : "60 mins"]
  on     = { for i in [1, 2] : "2026-10-06" => "none" }
}

athlete "eva" {
  recent = [for i in [1, 2] : "1 h" if i]
}
