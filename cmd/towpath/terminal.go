package main

import (
	"io"
	"os"

	"golang.org/x/term"
)

// deliver writes what a command was asked for.
func (a *app) deliver(text []byte) error {
	if _, err := a.stdout.Write(text); err != nil {
		return failure(err)
	}
	return nil
}

// defaultWidth is the width in columns where the output is no terminal.
const defaultWidth = 80

// width is the width in columns of the terminal that standard output is, or 80.
func (a *app) width() int {
	if f, ok := a.stdout.(*os.File); ok {
		if w, _, err := term.GetSize(int(f.Fd())); err == nil && w > 0 {
			return w
		}
	}
	return defaultWidth
}

// colored reports whether w gets colour: --color decides, else whether w is a terminal that can
// show it. See no-color.org for NO_COLOR.
func (a *app) colored(w io.Writer) bool {
	switch a.color.value {
	case "always":
		return true
	case "never":
		return false
	}
	f, ok := w.(*os.File)
	return ok && a.getenv("NO_COLOR") == "" && a.getenv("TERM") != "dumb" && term.IsTerminal(int(f.Fd()))
}
