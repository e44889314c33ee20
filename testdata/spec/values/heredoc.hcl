session "mine" {
  at_least = <<-EOT
    45 parsec
  EOT

  step "work" {
    duration = "fill"
  }
}
