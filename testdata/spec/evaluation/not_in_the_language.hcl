athlete "ines" {
  recent  = [athlete.signe][*].recent
  name    = "%{ for x in [1] }${x}%{ endfor }"
  longest = "${[1]} h"
  mass    = -"60 kg"
  born    = !true
}
