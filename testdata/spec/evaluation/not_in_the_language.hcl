athlete "ines" {
  recent  = [athlete.marta][*].recent
  name    = "%{ for x in [1] }${x}%{ endfor }"
  longest = "${[1]} h"
  mass    = -"60 kg"
  born    = !true
}
