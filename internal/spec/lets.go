package spec

import (
	"fmt"
	"slices"
	"strings"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
	"github.com/zclconf/go-cty/cty"

	"towpath/internal/diag"
	"towpath/internal/syntax"
)

// let is a value of the plan's own. It is computed when it is first needed.
type let struct {
	name  string
	at    hcl.Range // the name
	expr  hclsyntax.Expression
	state letState
	value value
}

type letState int

const (
	waiting letState = iota
	computing
	done
)

// maxLets bounds how long a chain of values can be.
const maxLets = 2_000

// collectLets gathers the values of a let block; a name in two of them is refused.
func (d *decoder) collectLets(b *hclsyntax.Block, brokenFile bool) {
	if !brokenFile {
		d.checkNoLabels(b, &letBlock)
		for _, inner := range b.Body.Blocks {
			d.report(codeUnknownBlock, inner.TypeRange, "let holds values, not blocks", fmt.Sprintf("Write name = value; a block %s stands outside of let.", inner.Type))
		}
	}
	for _, a := range syntax.InOrder(b.Body.Attributes) {
		if first := d.lets[a.Name]; first != nil && brokenFile {
			continue
		} else if first != nil {
			d.report(codeDoubleName, a.NameRange, fmt.Sprintf("let.%s is written twice", a.Name), "Keep one, or give the other another name.",
				diagRelated("the first one", first.at))
			continue
		}
		if len(d.lets) == maxLets {
			d.report(codeTooLarge, a.NameRange, fmt.Sprintf("The plan has more than %d values in let", maxLets), "Write values where they are used.")
		}
		l := &let{name: a.Name, at: a.NameRange, expr: a.Expr}
		if brokenFile || len(d.lets) >= maxLets {
			l.state = done // failed, silently
		}
		d.lets[a.Name] = l
		d.letOrder = append(d.letOrder, l)
	}
}

// letValue computes let.name and what follows it.
func (d *decoder) letValue(t hcl.Traversal, at hcl.Range) value {
	name, where, ok := step(t, 1)
	if !ok {
		d.report(codeUnknownName, at, "let alone names no value", "Write let.name, with a name that let { … } gives to a value.")
		return value{at: at}
	}
	l := d.lets[name]
	if l == nil {
		d.unknownLet(name, where)
		return value{at: at}
	}
	v := d.compute(l)
	if v.form == failed {
		return value{at: at}
	}
	return d.into(d.used(v, at), t[2:], at)
}

func (d *decoder) unknownLet(name string, where hcl.Range) {
	if d.broken {
		return
	}
	var known []string
	for _, l := range d.letOrder {
		known = append(known, l.name)
	}
	diagnostic := d.diagnostic(codeUnknownName, where, fmt.Sprintf("let has no value named %s", name), fmt.Sprintf("Add it: let { %s = … }.", name))
	if near := d.nearest(name, known); near != "" {
		diagnostic.Detail = seen(near, "let has ", known)
		diagnostic.Fix = replace("Write "+near, where, near)
	} else if len(known) > 0 {
		diagnostic.Detail = seen("", "let has ", known)
	}
	d.diags.Add(diagnostic)
}

// compute evaluates a value of let once. One that needs itself is reported once, with its path.
func (d *decoder) compute(l *let) value {
	switch l.state {
	case done:
		return l.value
	case computing:
		d.cycle(l)
		return value{}
	}
	l.state = computing
	d.letStack = append(d.letStack, l)
	v := d.eval(l.expr, nil)
	d.letStack = d.letStack[:len(d.letStack)-1]
	if l.state == computing { // else it is part of a cycle
		l.value = v
	}
	l.state = done
	return l.value
}

func (d *decoder) cycle(l *let) {
	start := slices.Index(d.letStack, l)
	path := d.letStack[start:]
	if path[0].state == done {
		return
	}
	var names []string
	var related []diag.Related
	for i, p := range path {
		names = append(names, "let."+p.name)
		next := path[(i+1)%len(path)]
		if len(path) > 1 {
			related = append(related, diagRelated(fmt.Sprintf("let.%s needs let.%s", p.name, next.name), p.at))
		}
		p.state = done
	}
	names = append(names, "let."+l.name)
	d.report(codeCycle, l.at, fmt.Sprintf("let.%s needs itself to be computed", l.name), strings.Join(names, " → ")+". Give one of them a value of its own.", related...)
}

// keyValue reads the key of an index.
func keyValue(v cty.Value) value {
	switch {
	case v.IsNull() || !v.IsKnown():
	case v.Type() == cty.String:
		return value{form: text, text: v.AsString()}
	case v.Type() == cty.Number:
		n, _ := v.AsBigFloat().Float64()
		return value{form: number, number: n}
	}
	return value{}
}
