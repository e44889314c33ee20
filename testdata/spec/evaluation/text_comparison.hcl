let {
  usual = "60 min"
}

athlete "ines" {
  longest     = let.usual == "1 h" ? "2 h" : "3 h"
  power_meter = "60 min" < "1 h"
  name        = "a" == 1 ? "b" : "c"
  mass        = "true" ? "60 kg" : "58 kg"
}
