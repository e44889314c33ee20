atlete "ines" {
  mass = "58 kg"
}

weather {
}
