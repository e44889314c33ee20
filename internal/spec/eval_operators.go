package spec

import (
	"fmt"
	"math"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
)

// sign is an operator as the coach writes it.
var sign = map[*hclsyntax.Operation]string{
	hclsyntax.OpAdd: "+", hclsyntax.OpSubtract: "-", hclsyntax.OpMultiply: "*", hclsyntax.OpDivide: "/", hclsyntax.OpModulo: "%",
	hclsyntax.OpEqual: "==", hclsyntax.OpNotEqual: "!=",
	hclsyntax.OpLessThan: "<", hclsyntax.OpLessThanOrEqual: "<=", hclsyntax.OpGreaterThan: ">", hclsyntax.OpGreaterThanOrEqual: ">=",
	hclsyntax.OpLogicalAnd: "&&", hclsyntax.OpLogicalOr: "||", hclsyntax.OpLogicalNot: "!",
}

func (d *decoder) binary(x *hclsyntax.BinaryOpExpr, in *scope) value {
	a, b := d.eval(x.LHS, in), d.eval(x.RHS, in)
	if a.form == failed || b.form == failed {
		return value{at: x.SrcRange}
	}
	switch op := sign[x.Op]; op {
	case "==", "!=":
		return d.equal(x, op, a, b)
	case "&&", "||":
		if a.form == truth && b.form == truth {
			t := a.truth && b.truth
			if op == "||" {
				t = a.truth || b.truth
			}
			return value{form: truth, truth: t, at: x.SrcRange, leaves: 1}
		}
		d.report(codeWrongType, x.SrcRange, fmt.Sprintf("%s joins what is true or false; here stand %s and %s", op, a.form, b.form), "Compare values with == on each side.")
	default:
		if a.form == number && b.form == number {
			return d.arithmetic(x, op, a.number, b.number)
		}
		d.textMath(x, op, a, b)
	}
	return value{at: x.SrcRange}
}

func (d *decoder) arithmetic(x *hclsyntax.BinaryOpExpr, op string, a, b float64) value {
	isTrue := func(t bool) value { return value{form: truth, truth: t, at: x.SrcRange, leaves: 1} }
	switch op {
	case "+":
		return d.number(a+b, x.SrcRange)
	case "-":
		return d.number(a-b, x.SrcRange)
	case "*":
		return d.number(a*b, x.SrcRange)
	case "<":
		return isTrue(a < b)
	case "<=":
		return isTrue(a <= b)
	case ">":
		return isTrue(a > b)
	case ">=":
		return isTrue(a >= b)
	}
	if b == 0 {
		d.report(codeOutOfRange, x.SrcRange, "A number is divided by 0", "Divide by another number.")
		return value{at: x.SrcRange}
	}
	if op == "/" {
		return d.number(a/b, x.SrcRange)
	}
	return d.number(modulo(a, b), x.SrcRange)
}

// modulo is the remainder with the sign of a.
func modulo(a, b float64) float64 {
	whole := math.Trunc(rounded(a / b)) // 0.3 / 0.1 is 2.9999999999999996
	return a - float64(b*whole)
}

// equal compares. Texts with a unit are refused: "60 min" and "1 h" are different texts.
func (d *decoder) equal(x *hclsyntax.BinaryOpExpr, op string, a, b value) value {
	for _, v := range []value{a, b} {
		if v.form == text && isQuantity(v.text) {
			d.report(codeTextMath, x.SrcRange, fmt.Sprintf("%s compares texts letter by letter, and %s has a unit", op, shown(v.text)),
				`"60 min" and "1 h" would count as different. least(a, b) and most(a, b) pick the smaller and the larger of two quantities.`)
			return value{at: x.SrcRange}
		}
	}
	if a.form != b.form && a.form != nothing && b.form != nothing {
		d.report(codeWrongType, x.SrcRange, fmt.Sprintf("%s compares %s with %s: they are never equal", op, a.form, b.form), "Compare values of one kind.")
		return value{at: x.SrcRange}
	}
	if !d.spend(min(a.leaves, b.leaves), x.SrcRange) {
		return value{at: x.SrcRange}
	}
	return value{form: truth, truth: same(a, b) == (op == "=="), at: x.SrcRange, leaves: 1}
}

func same(a, b value) bool {
	if a.form != b.form || len(a.items) != len(b.items) {
		return false
	}
	switch a.form {
	case text:
		return a.text == b.text
	case number:
		return a.number == b.number
	case truth:
		return a.truth == b.truth
	case pointer:
		return a.ref == b.ref
	}
	for i := range a.items {
		if !same(a.items[i], b.items[i]) || len(a.keys) > i && a.keys[i].text != b.keys[i].text {
			return false
		}
	}
	return true
}

// textMath reports an operator between values that are not both numbers, and names the function
// to use.
func (d *decoder) textMath(x *hclsyntax.BinaryOpExpr, op string, a, b value) {
	left, right := string(d.source(x.LHS.Range())), string(d.source(x.RHS.Range()))
	instead := ""
	quantities := a.form == text && b.form == text && isQuantity(a.text) && isQuantity(b.text)
	switch {
	case op == "+" && quantities:
		instead = "plus(" + left + ", " + right + ")"
	case op == "-" && quantities:
		instead = "minus(" + left + ", " + right + ")"
	case op == "*" && a.form == text && b.form == number && isQuantity(a.text):
		instead = "scale(" + left + ", " + right + ")"
	case op == "*" && a.form == number && b.form == text && isQuantity(b.text):
		instead = "scale(" + right + ", " + left + ")"
	case op == "/" && a.form == text && b.form == number && isQuantity(a.text):
		instead = "scale(" + left + ", 1 / " + right + ")"
	}
	detail := "It computes with numbers alone. Quantities are computed by " + some(functionNames()) + "."
	switch {
	case instead != "":
		detail = "Quantities are computed by functions: " + instead + "."
	case quantities && (op == "<" || op == "<=" || op == ">" || op == ">="):
		detail = "least(a, b) and most(a, b) pick the smaller and the larger of two quantities."
	case op == "+" && a.form == text && b.form == text:
		detail = `To join texts, put them into one: "${a} ${b}".`
	}
	what := func(v value) string {
		if v.form == text {
			return shown(v.text)
		}
		return v.form.String()
	}
	diagnostic := d.diagnostic(codeTextMath, x.SrcRange, fmt.Sprintf("%s cannot stand between %s and %s", op, what(a), what(b)), detail)
	if instead != "" {
		diagnostic.Fix = replace("Write "+instead, x.SrcRange, instead)
	}
	d.diags.Add(diagnostic)
}

func (d *decoder) unary(x *hclsyntax.UnaryOpExpr, in *scope) value {
	v := d.eval(x.Val, in)
	switch op := sign[x.Op]; {
	case v.form == failed:
	case op == "!" && v.form == truth:
		return value{form: truth, truth: !v.truth, at: x.SrcRange, leaves: 1}
	case op != "!" && v.form == number:
		return d.number(-v.number, x.SrcRange)
	case op != "!" && v.form == text:
		d.report(codeTextMath, x.SrcRange, "A minus sign cannot stand before a text", fmt.Sprintf("Write it inside the quotes: %s.", shown("-"+v.text)))
	default:
		d.report(codeWrongType, x.SrcRange, fmt.Sprintf("%s cannot stand before %s", map[bool]string{true: "!", false: "-"}[op == "!"], v.form), "Before - stands a number, before ! what is true or false.")
	}
	return value{at: x.SrcRange}
}

// index computes v[key] with a computed key.
func (d *decoder) index(v, key value, at hcl.Range) value {
	if v.form == failed || key.form == failed {
		return value{at: at}
	}
	switch {
	case v.form == sequence && key.form == number:
		return d.item(v, key.number, at)
	case v.form == table && key.form == text:
		return d.entry(v, key.text, at, key.at)
	case v.form == pointer:
		d.opaque(v, at)
	default:
		d.report(codeWrongType, at, fmt.Sprintf("%s cannot be picked from with %s", capital(v.form.String()), key.form), "Lists are picked from with a number from 0, tables with a name.")
	}
	return value{at: at}
}
