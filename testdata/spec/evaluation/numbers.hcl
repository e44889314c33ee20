athlete "ines" {
  born = 1 / 0
  recent = ["${999999999 * 999999999} min", "${1/3} h"]
}
