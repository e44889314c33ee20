squad "north" {
  title = "North"
}
