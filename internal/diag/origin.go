package diag

import (
	"fmt"
	"io"
	"strings"
)

// WriteOrigin prints where a value comes from: what it is, the line that caused it, its source, and
// beneath it, further in, what it was made from. The error is the writer's.
func WriteOrigin(w io.Writer, origin Origin, files map[string][]byte, o TextOptions) error {
	p := newPrinter(files, o)
	p.origin(origin, 0)
	_, err := w.Write(p.out.Bytes())
	return err
}

func (p *printer) origin(o Origin, depth int) {
	// Deep trees stop moving to the right before the text has no room left.
	margin := strings.Repeat("  ", min(depth, p.width/8))
	if depth == 0 {
		p.wrapped(margin, o.What)
	} else {
		hanging := Wrap(o.What, p.width-len(margin)-2)
		p.line("%s- %s", margin, hanging[0])
		for _, l := range hanging[1:] {
			p.line("%s  %s", margin, l)
		}
	}
	below := margin + "    "
	if place := p.place(o.Range); place != "" {
		p.wrapped(below, place)
		if src, ok := p.files[o.Range.Filename]; ok {
			start, end := p.lineAt(o.Range.Filename, o.Range.Start.Byte)
			if text := strings.TrimSpace(string(src[start:end])); text != "" {
				p.line("%s%s", below, Clip(fmt.Sprintf("| %s", Printable(text)), p.width-len(below)))
			}
		}
	}
	p.source(below, o.SourceKey)
	for _, from := range o.From {
		p.origin(from, depth+1)
	}
}
