package syntax

import (
	"fmt"
	"math/big"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
	"github.com/zclconf/go-cty/cty"

	"towpath/internal/diag"
)

// The limits of evaluation. A few lines of text can ask for more than any machine has: loops in
// loops, texts and lists that double line by line, numbers that square themselves.
const (
	maxElements   = 10_000  // elements that all `for` of a plan run through
	maxSteps      = 500_000 // parts of expressions evaluated in a plan
	maxTextBytes  = 4 << 10 // of a text that is put together
	maxCollection = 2_000   // items of one list or object
	maxLeaves     = 20_000  // values within a value, shared ones counted each time
	maxNumber     = 1e9
)

// Budget is what the expressions of one plan may cost together. Make one for each plan, and
// evaluate each expression by Value, never by its own method.
type Budget struct {
	elements, steps int
	refusals        diag.List
}

// NewBudget gives a budget from which nothing is spent.
func NewBudget() *Budget { return &Budget{elements: maxElements, steps: maxSteps} }

// Value evaluates e within the budget; e itself is not changed. What evaluation finds wrong comes
// back in problems, for the caller to put into words. Where the budget is overspent or a value
// grows past all sense, refused says so, value is unknown and problems is nil.
func (b *Budget) Value(e hclsyntax.Expression, ctx *hcl.EvalContext) (value cty.Value, problems hcl.Diagnostics, refused diag.List) {
	b.refusals = nil
	value, problems = b.bound(e).Value(ctx)
	if b.refusals == nil {
		if left := maxLeaves; !countLeaves(value, &left) {
			b.refuse("value-too-large", e.Range(), fmt.Sprintf("This value holds more than %d values", maxLeaves),
				"Make it smaller: a list that holds another list twice doubles it.")
		}
	}
	if b.refusals != nil {
		return cty.DynamicVal, nil, b.refusals
	}
	return value, problems, nil
}

// bound gives a copy of e in which every part checks what it yields.
func (b *Budget) bound(e hclsyntax.Expression) hclsyntax.Expression {
	switch e := e.(type) {
	case *hclsyntax.ParenthesesExpr:
		c := *e
		c.Expression = b.bound(e.Expression)
		return b.checked(&c)
	case *hclsyntax.TemplateExpr:
		c := *e
		c.Parts = b.boundAll(e.Parts)
		return b.checked(&c)
	case *hclsyntax.TemplateWrapExpr:
		c := *e
		c.Wrapped = b.bound(e.Wrapped)
		return b.checked(&c)
	case *hclsyntax.TemplateJoinExpr:
		c := *e
		c.Tuple = b.bound(e.Tuple)
		return b.checked(&c)
	case *hclsyntax.FunctionCallExpr:
		c := *e
		c.Args = b.boundAll(e.Args)
		return b.checked(&c)
	case *hclsyntax.ConditionalExpr:
		c := *e
		c.Condition, c.TrueResult, c.FalseResult = b.bound(e.Condition), b.bound(e.TrueResult), b.bound(e.FalseResult)
		return b.checked(&c)
	case *hclsyntax.BinaryOpExpr:
		c := *e
		c.LHS, c.RHS = b.bound(e.LHS), b.bound(e.RHS)
		return b.checked(&c)
	case *hclsyntax.UnaryOpExpr:
		c := *e
		c.Val = b.bound(e.Val)
		return b.checked(&c)
	case *hclsyntax.TupleConsExpr:
		c := *e
		c.Exprs = b.boundAll(e.Exprs)
		return b.checked(&c)
	case *hclsyntax.ObjectConsExpr:
		c := *e
		c.Items = make([]hclsyntax.ObjectConsItem, len(e.Items))
		for i, item := range e.Items {
			c.Items[i] = hclsyntax.ObjectConsItem{KeyExpr: b.bound(item.KeyExpr), ValueExpr: b.bound(item.ValueExpr)}
		}
		return b.checked(&c)
	case *hclsyntax.ObjectConsKeyExpr:
		if hcl.ExprAsKeyword(e.Wrapped) != "" && !e.ForceNonLiteral {
			return e // a plain name
		}
		c := *e
		c.Wrapped = b.bound(e.Wrapped)
		return b.checked(&c)
	case *hclsyntax.ForExpr:
		c := *e
		c.CollExpr = &counted{Expression: b.bound(e.CollExpr), budget: b}
		c.KeyExpr, c.ValExpr, c.CondExpr = b.optional(e.KeyExpr), b.bound(e.ValExpr), b.optional(e.CondExpr)
		return b.checked(&c)
	case *hclsyntax.SplatExpr:
		c := *e
		c.Source = &counted{Expression: b.bound(e.Source), budget: b}
		c.Each = b.bound(e.Each)
		return b.checked(&c)
	case *hclsyntax.IndexExpr:
		c := *e
		c.Collection, c.Key = b.bound(e.Collection), b.bound(e.Key)
		return b.checked(&c)
	case *hclsyntax.RelativeTraversalExpr:
		c := *e
		c.Source = b.bound(e.Source)
		return b.checked(&c)
	}
	// Names and literals have no parts. The symbol of a `[*]` must stay the one that its parent knows.
	if _, ok := e.(*hclsyntax.AnonSymbolExpr); ok {
		return e
	}
	return b.checked(e)
}

func (b *Budget) boundAll(list []hclsyntax.Expression) []hclsyntax.Expression {
	out := make([]hclsyntax.Expression, len(list))
	for i, e := range list {
		out[i] = b.bound(e)
	}
	return out
}

func (b *Budget) optional(e hclsyntax.Expression) hclsyntax.Expression {
	if e == nil {
		return nil
	}
	return b.bound(e)
}

func (b *Budget) checked(e hclsyntax.Expression) hclsyntax.Expression {
	return &checked{Expression: e, budget: b}
}

func (b *Budget) refuse(code string, at diag.Range, summary, detail string) (cty.Value, hcl.Diagnostics) {
	if b.refusals == nil {
		b.refusals = diag.List{failed(code, at, summary, detail)}
	}
	return cty.DynamicVal, nil
}

// checked is an expression whose value must be of a sensible size.
type checked struct {
	hclsyntax.Expression
	budget *Budget
}

// UnwrapExpression lets static analysis see the expression within.
func (c *checked) UnwrapExpression() hcl.Expression { return c.Expression }

func (c *checked) Value(ctx *hcl.EvalContext) (cty.Value, hcl.Diagnostics) {
	b := c.budget
	if b.refusals != nil {
		return cty.DynamicVal, nil
	}
	if b.steps--; b.steps < 0 {
		return b.refuse("plan-too-costly", c.Range(), "The expressions of this plan take too long to compute",
			"Loops within loops multiply: write the values out, or loop over fewer of them.")
	}
	v, problems := c.Expression.Value(ctx)
	if b.refusals != nil {
		return cty.DynamicVal, nil
	}
	known, _ := v.Unmark()
	if known.IsNull() || !known.IsKnown() {
		return v, problems
	}
	switch t := known.Type(); {
	case t == cty.Number && tooBig(known.AsBigFloat()):
		return b.refuse("number-too-large", c.Range(), "This comes to a number beyond a thousand million",
			"A plan has no use for such a number; look for a division by 0 or a slip in a factor.")
	case t == cty.String && len(known.AsString()) > maxTextBytes:
		return b.refuse("value-too-large", c.Range(), fmt.Sprintf("This text has %d bytes", len(known.AsString())),
			fmt.Sprintf("A text may have at most %d.", maxTextBytes))
	case known.CanIterateElements() && known.LengthInt() > maxCollection:
		return b.refuse("value-too-large", c.Range(), fmt.Sprintf("This list has %d items", known.LengthInt()),
			fmt.Sprintf("A list may have at most %d.", maxCollection))
	}
	return v, problems
}

// tooBig covers infinity, which is what a division by 0 gives.
func tooBig(f *big.Float) bool {
	return f.IsInf() || new(big.Float).Abs(f).Cmp(big.NewFloat(maxNumber)) > 0
}

// counted is a list that is run through: its items are taken from the budget.
type counted struct {
	hclsyntax.Expression
	budget *Budget
}

// UnwrapExpression lets static analysis see the expression within.
func (c *counted) UnwrapExpression() hcl.Expression { return c.Expression }

func (c *counted) Value(ctx *hcl.EvalContext) (cty.Value, hcl.Diagnostics) {
	v, problems := c.Expression.Value(ctx)
	known, _ := v.Unmark()
	if known.IsNull() || !known.IsKnown() || !known.CanIterateElements() {
		return v, problems
	}
	if c.budget.elements -= known.LengthInt(); c.budget.elements < 0 {
		return c.budget.refuse("plan-too-costly", c.Range(), fmt.Sprintf("All `for` of this plan together run through more than %d items", maxElements),
			"Loops within loops multiply: write the values out, or loop over fewer of them.")
	}
	return v, problems
}

// countLeaves takes the values within v from left, and reports whether there were enough.
func countLeaves(v cty.Value, left *int) bool {
	v, _ = v.Unmark()
	if *left--; *left < 0 {
		return false
	}
	if v.IsNull() || !v.IsKnown() || !v.CanIterateElements() {
		return true
	}
	for it := v.ElementIterator(); it.Next(); {
		if _, item := it.Element(); !countLeaves(item, left) {
			return false
		}
	}
	return true
}
