// Command towpath compiles a block spec into an athlete's sessions.
package main

func main() {}
