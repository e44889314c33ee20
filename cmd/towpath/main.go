// Command towpath compiles a block spec, written in a text editor and kept in git, into an
// athlete's sessions. This package is the only one that touches the machine: arguments, terminal,
// clock, random numbers and files. It computes nothing about training.
package main

import (
	"crypto/rand"
	"os"
	"time"
)

func main() {
	os.Exit(run(os.Args[1:], machine{
		stdin: os.Stdin, stdout: os.Stdout, stderr: os.Stderr,
		getenv: os.Getenv, now: time.Now, random: rand.Reader,
	}))
}
