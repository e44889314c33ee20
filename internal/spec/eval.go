package spec

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
	"github.com/zclconf/go-cty/cty"
)

// Expressions are evaluated here and not by the HCL library: its evaluator has no limits (twenty
// bytes can keep it busy for hours), compares texts with units letter by letter, and its messages
// speak of programming. The tree is theirs, the meaning of each node is the same.

// Limits of evaluation. They are far above what a plan needs.
const (
	maxLoops   = 10_000 // rounds of all for expressions in a plan
	maxText    = 4 << 10
	maxItems   = 2_000
	maxLeaves  = 20_000    // values in one list or table, all levels counted
	maxSteps   = 1_000_000 // expressions computed, each round of a for anew
	maxMade    = 16 << 20  // bytes of all texts that are put together
	maxNumber  = 1e9
	roundingTo = 1e9 // numbers are kept to nine decimals, so that 0.1 + 0.2 is 0.3
)

// form is what a value looks like.
type form int

const (
	failed  form = iota // an error was reported: nothing more is said about this value
	nothing             // null
	text
	number
	truth
	sequence // [...]
	table    // {...}
	pointer  // a reference to a block
)

func (f form) String() string {
	return [...]string{"a failed value", "nothing", "text", "a number", "true or false", "a list", "a table in braces", "a reference"}[f]
}

// value is the result of an expression.
type value struct {
	form    form
	at      hcl.Range // where it stands, or where a computed value is asked for
	literal bool      // at holds the text itself, in quotes
	entry   bool      // it stands in a list
	from    hcl.Range // where a value taken from let was written; zero for others
	text    string
	number  float64
	truth   bool
	keys    []value // of a table, beside items
	items   []value
	ref     Ref
	leaves  int
}

// scope holds the values that a for expression gives names to.
type scope struct {
	name  string
	value value
	outer *scope
}

func (s *scope) find(name string) (value, bool) {
	for ; s != nil; s = s.outer {
		if s.name == name {
			return s.value, true
		}
	}
	return value{}, false
}

// eval computes an expression. Mistakes are reported once, where they are; what depends on them
// fails silently.
func (d *decoder) eval(x hclsyntax.Expression, in *scope) value {
	at := x.Range()
	if !d.spend(1, at) {
		return value{at: at}
	}
	switch x := x.(type) {
	case *hclsyntax.LiteralValueExpr:
		return d.literal(x)
	case *hclsyntax.ParenthesesExpr:
		return d.eval(x.Expression, in)
	case *hclsyntax.TemplateExpr:
		return d.template(x, in)
	case *hclsyntax.TemplateWrapExpr:
		v := d.eval(x.Wrapped, in)
		v.at, v.literal = at, false
		return v
	case *hclsyntax.ScopeTraversalExpr:
		return d.traversal(x.Traversal, at, in)
	case *hclsyntax.RelativeTraversalExpr:
		return d.into(d.eval(x.Source, in), x.Traversal, at)
	case *hclsyntax.IndexExpr:
		return d.index(d.eval(x.Collection, in), d.eval(x.Key, in), at)
	case *hclsyntax.TupleConsExpr:
		return d.list(x, in)
	case *hclsyntax.ObjectConsExpr:
		return d.table(x, in)
	case *hclsyntax.ForExpr:
		return d.loop(x, in)
	case *hclsyntax.ConditionalExpr:
		return d.conditional(x, in)
	case *hclsyntax.BinaryOpExpr:
		return d.binary(x, in)
	case *hclsyntax.UnaryOpExpr:
		return d.unary(x, in)
	case *hclsyntax.FunctionCallExpr:
		return d.call(x, in)
	case *hclsyntax.ExprSyntaxError:
		return value{at: at}
	}
	d.report(codeUnknownName, at, "This way of writing a value is not part of the language",
		"Values are texts, numbers, true and false, lists, references, for, conditions with ? and :, and the functions "+some(functionNames())+".")
	return value{at: at}
}

// spend counts work. It reports once when a plan asks for more than it may, and stops it.
func (d *decoder) spend(steps int, at hcl.Range) bool {
	was := d.work
	d.work += steps
	if was <= maxSteps && d.work > maxSteps {
		d.report(codeTooLarge, at, "The plan computes more than it may", fmt.Sprintf("All its values together take more than %d steps: shorten the lists that for goes through.", maxSteps))
	}
	return d.work <= maxSteps
}

func (d *decoder) literal(x *hclsyntax.LiteralValueExpr) value {
	v := value{at: x.SrcRange, leaves: 1}
	switch {
	case x.Val.IsNull():
		v.form = nothing
	case x.Val.Type() == cty.Bool:
		v.form, v.truth = truth, x.Val.True()
	case x.Val.Type() == cty.Number:
		n, _ := x.Val.AsBigFloat().Float64()
		return d.number(n, x.SrcRange)
	case x.Val.Type() == cty.String: // the words between the parts of a template
		return d.text(x.Val.AsString(), x.SrcRange)
	}
	return v
}

// number makes a number, if it is one that a plan can mean.
func (d *decoder) number(n float64, at hcl.Range) value {
	if math.IsNaN(n) || math.Abs(n) >= maxNumber {
		d.report(codeOutOfRange, at, "The number is too large", "Numbers in a plan stay below 1 000 000 000.")
		return value{at: at}
	}
	return value{form: number, at: at, number: rounded(n), leaves: 1}
}

// rounded keeps nine decimals, and no minus zero, which would be spelled with its sign.
func rounded(n float64) float64 {
	n = math.Round(n*roundingTo) / roundingTo
	if n == 0 {
		return 0
	}
	return n
}

// text makes a text, if it is not too long.
func (d *decoder) text(s string, at hcl.Range) value {
	if len(s) > maxText {
		d.report(codeTooLarge, at, "The text is too long", "A text holds some 700 words at most.")
		return value{at: at}
	}
	return value{form: text, at: at, text: s, leaves: 1}
}

func (d *decoder) template(x *hclsyntax.TemplateExpr, in *scope) value {
	var said strings.Builder
	plain, bad := true, false
	for _, part := range x.Parts {
		_, isLiteral := part.(*hclsyntax.LiteralValueExpr)
		v := d.eval(part, in)
		plain = plain && isLiteral && v.form == text
		s, ok := v.spelled()
		if !ok && v.form != failed {
			d.report(codeWrongType, v.at, "Only text, numbers and true or false can stand inside a text; this is "+v.form.String(),
				"Take the value out of the quotes.", d.origin(v)...)
		}
		bad = bad || !ok
		if said.Len() <= maxText {
			said.WriteString(s)
		}
	}
	if bad {
		return value{at: x.SrcRange}
	}
	v := d.text(said.String(), x.SrcRange)
	if !plain {
		d.made += len(v.text)
		if d.made > maxMade {
			d.spend(maxSteps, x.SrcRange)
			return value{at: x.SrcRange}
		}
	}
	src := d.source(x.SrcRange)
	v.literal = plain && v.form == text && len(src) >= 2 && src[0] == '"'
	return v
}

// spelled is a value inside a text.
func (v value) spelled() (s string, ok bool) {
	switch v.form {
	case text:
		return v.text, true
	case number:
		return spell(v.number), true
	case truth:
		return strconv.FormatBool(v.truth), true
	}
	return "", false
}

func spell(n float64) string { return strconv.FormatFloat(n, 'f', -1, 64) }

func (d *decoder) list(x *hclsyntax.TupleConsExpr, in *scope) value {
	v := value{form: sequence, at: x.SrcRange}
	for _, e := range x.Exprs {
		v.items = append(v.items, d.eval(e, in))
	}
	return d.sized(v)
}

// sized counts what a list or table holds and refuses what is too large.
func (d *decoder) sized(v value) value {
	v.leaves = 1
	for _, item := range v.items {
		v.leaves += item.leaves
	}
	if len(v.items) > maxItems || v.leaves > maxLeaves {
		d.report(codeTooLarge, v.at, fmt.Sprintf("This holds %d values", max(len(v.items), v.leaves)),
			fmt.Sprintf("A list or table has at most %d entries and %d values in all.", maxItems, maxLeaves))
		return value{at: v.at}
	}
	return v
}

func (d *decoder) table(x *hclsyntax.ObjectConsExpr, in *scope) value {
	v := value{form: table, at: x.SrcRange}
	bad := false
	for _, item := range x.Items {
		key := d.key(item.KeyExpr, in)
		val := d.eval(item.ValueExpr, in)
		if key.form == failed {
			bad = true
			continue
		}
		bad = !d.put(&v, key, val) || bad
	}
	v = d.sized(v)
	if bad && len(v.items) == 0 {
		v.form = failed
	}
	return v
}

// put adds an entry to a table; the same key twice is refused, where HCL takes the last.
func (d *decoder) put(v *value, key, val value) bool {
	for _, k := range v.keys {
		if k.text == key.text {
			d.report(codeDoubleName, key.at, fmt.Sprintf("%s is written twice", key.text),
				"Keep one of the two.", diagRelated("the first one", k.at))
			return false
		}
	}
	if len(v.keys) > maxItems {
		return true // sized complains
	}
	v.keys, v.items = append(v.keys, key), append(v.items, val)
	return true
}

func (d *decoder) key(x hclsyntax.Expression, in *scope) value {
	if k, ok := x.(*hclsyntax.ObjectConsKeyExpr); ok {
		if word := hcl.ExprAsKeyword(k.Wrapped); word != "" && !k.ForceNonLiteral {
			return d.text(word, k.Range())
		}
		x = k.Wrapped
	}
	v := d.eval(x, in)
	if v.form == failed || v.form == text {
		return v
	}
	s, ok := v.spelled()
	if !ok {
		d.report(codeWrongType, v.at, "The name of an entry is text; this is "+v.form.String(), `Write it in quotes: "2026-10-06" = ….`, d.origin(v)...)
		return value{at: v.at}
	}
	return d.text(s, v.at)
}

func (d *decoder) conditional(x *hclsyntax.ConditionalExpr, in *scope) value {
	// Both sides are evaluated: a mistake in the one that is not taken today is a mistake.
	c, yes, no := d.eval(x.Condition, in), d.eval(x.TrueResult, in), d.eval(x.FalseResult, in)
	if c.form == failed {
		return value{at: x.SrcRange}
	}
	if c.form != truth {
		d.report(codeWrongType, x.Condition.Range(), "The part before ? is true or false; this is "+c.form.String(), "Compare two values with == there.", d.origin(c)...)
		return value{at: x.SrcRange}
	}
	if c.truth {
		return yes
	}
	return no
}

// loop computes [for x in list : …] and {for k, v in table : k => …}.
func (d *decoder) loop(x *hclsyntax.ForExpr, in *scope) value {
	over := d.eval(x.CollExpr, in)
	out := value{form: sequence, at: x.SrcRange}
	if x.KeyExpr != nil {
		out.form = table
	}
	switch {
	case over.form == failed:
		return value{at: x.SrcRange}
	case over.form != sequence && over.form != table:
		d.report(codeWrongType, x.CollExpr.Range(), "for goes through a list or a table; this is "+over.form.String(), `Write a list after in: [for d in ["monday", "friday"] : d].`, d.origin(over)...)
		return value{at: x.SrcRange}
	case x.Group:
		d.report(codeUnknownName, x.SrcRange, "Grouping with ... is not part of the language", "Write the groups out.")
		return value{at: x.SrcRange}
	}
	for i, item := range over.items {
		if d.loops++; d.loops > maxLoops {
			if d.loops == maxLoops+1 {
				d.report(codeTooLarge, x.SrcRange, fmt.Sprintf("The plan goes round more than %d times with for", maxLoops), "Shorten the lists that they go through.")
			}
			return value{at: x.SrcRange}
		}
		if !d.round(&out, x, over, i, item, in) {
			return value{at: x.SrcRange} // one round's mistake is every round's
		}
	}
	return d.sized(out)
}

// round adds one entry of a for expression to out.
func (d *decoder) round(out *value, x *hclsyntax.ForExpr, over value, i int, item value, in *scope) bool {
	inner := &scope{x.ValVar, item, in}
	if x.KeyVar != "" {
		k := value{form: number, number: float64(i), at: item.at, leaves: 1}
		if over.form == table {
			k = over.keys[i]
		}
		inner = &scope{x.KeyVar, k, inner}
	}
	if x.CondExpr != nil {
		c := d.eval(x.CondExpr, inner)
		if c.form != truth {
			if c.form != failed {
				d.report(codeWrongType, x.CondExpr.Range(), "The part after if is true or false; this is "+c.form.String(), "Compare two values with == there.")
			}
			return false
		}
		if !c.truth {
			return true
		}
	}
	val := d.eval(x.ValExpr, inner)
	if val.form == failed {
		return false
	}
	if x.KeyExpr == nil {
		out.items = append(out.items, val)
	} else if key := d.key(x.KeyExpr, inner); key.form == failed || !d.put(out, key, val) {
		return false
	}
	out.leaves += val.leaves
	if len(out.items) > maxItems || out.leaves > maxLeaves {
		d.sized(*out)
		return false
	}
	return true
}
