atlete "ines" {
  mass = "61 kg"
}

weather {
}
