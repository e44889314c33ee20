package plan

import (
	"cmp"
	"fmt"
	"slices"

	"towpath/internal/diag"
	"towpath/internal/record"
	"towpath/internal/spec"
	"towpath/internal/units"
)

// resolver holds what the steps of one resolution share. References were checked by spec: one
// that leads nowhere here was already complained about.
type resolver struct {
	spec      *spec.Spec
	diags     diag.List
	athletes  map[string]*spec.Athlete
	meters    map[string]*spec.Meter
	tests     map[string]*spec.Test
	bands     map[string]*spec.Band
	sessions  map[string]*Session
	protocols map[string]*Session
	readings  map[string]*reading // analysed tests
	checked   []*spec.Athlete     // whose checks have run
}

// Resolve turns a specification into blocks. A block that lacks something essential is left out,
// with the reason among the diagnostics; the others are whole.
//
// The order matters: sessions and protocols first, since rides and test days name them; then for
// each block its athlete, the bands in force, the weeks' kinds and totals, and last what is given
// in each week, which needs all of them.
func Resolve(s *spec.Spec, records map[string]*record.Athlete, asOf units.Date) (*Plan, diag.List) {
	r := &resolver{
		spec:      s,
		athletes:  byKey(s.Athletes, func(a *spec.Athlete) string { return a.Key }),
		meters:    byKey(s.Meters, func(m *spec.Meter) string { return m.Key }),
		tests:     byKey(s.Tests, func(t *spec.Test) string { return t.Key }),
		bands:     byKey(s.Bands, func(b *spec.Band) string { return b.Key }),
		sessions:  map[string]*Session{},
		protocols: map[string]*Session{},
		readings:  map[string]*reading{},
	}
	for _, session := range s.Sessions {
		r.sessions[session.Key] = r.session(session)
	}
	for _, protocol := range s.Protocols {
		r.protocols[protocol.Key] = r.session(protocol)
	}
	p := &Plan{ID: s.ID.V}
	for _, block := range s.Blocks {
		for _, athlete := range r.athletesOf(block) {
			before := len(r.diags)
			if b := r.block(block, athlete, records[athlete.Key], asOf); b != nil {
				b.PlanID, b.Faulty = p.ID, r.diags[before:].HasErrors()
				p.Blocks = append(p.Blocks, b)
			}
		}
	}
	slices.SortStableFunc(p.Blocks, func(a, b *Block) int {
		return cmp.Or(cmp.Compare(a.Athlete.Key, b.Athlete.Key), cmp.Compare(a.Start, b.Start), cmp.Compare(a.Key, b.Key))
	})
	r.checkOverlaps(p.Blocks)
	if len(s.Blocks) == 0 && !s.Broken {
		at := s.ID.Range
		r.add(diag.Error, "no-block", at, "The plan has no block", `A block says when, how many weeks, how many hours and which rides: block "autumn" { … }.`)
	}
	return p, r.diags
}

// athletesOf lists who rides a block: those it names, or the plan's only athlete.
func (r *resolver) athletesOf(b *spec.Block) []*spec.Athlete {
	var out []*spec.Athlete
	for _, ref := range b.Athletes {
		if a := r.athletes[ref.V.Key]; a != nil && !slices.Contains(out, a) {
			out = append(out, a)
		}
	}
	if len(b.Athletes) > 0 {
		return out
	}
	if len(r.spec.Athletes) == 1 {
		return r.spec.Athletes
	}
	if len(r.spec.Athletes) > 1 || !r.spec.Broken {
		r.add(diag.Error, "block-without-athlete", b.Header, fmt.Sprintf("Block %q does not say who rides it", b.Key),
			fmt.Sprintf("The plan has %d athletes; name them: athletes = [athlete.…].", len(r.spec.Athletes)))
	}
	return nil
}

// checkOverlaps refuses two blocks of one athlete that share a date.
func (r *resolver) checkOverlaps(blocks []*Block) {
	for i, b := range blocks {
		for _, a := range blocks[:i] {
			if a.Athlete.Key == b.Athlete.Key && a.End() >= b.Start {
				r.diags.Add(diag.Diagnostic{
					Code: "blocks-overlap", Severity: diag.Error, Subject: b.Range,
					Summary: fmt.Sprintf("Block %q begins on %s, before block %q has ended on %s", b.Key, b.Start, a.Key, a.End()),
					Detail:  fmt.Sprintf("%s can ride one block at a time. Start it on %s or later, or shorten the other.", a.Athlete.Name, a.End().Add(1)),
					Related: []diag.Related{{Message: "the other block", Range: a.Range}},
				})
			}
		}
	}
}

// add reports one thing.
func (r *resolver) add(severity diag.Severity, code string, at diag.Range, summary, detail string, related ...diag.Related) {
	r.diags.Add(diag.Diagnostic{Code: code, Severity: severity, Subject: at, Summary: summary, Detail: detail, Related: related})
}

func byKey[T any](list []*T, key func(*T) string) map[string]*T {
	m := make(map[string]*T, len(list))
	for _, v := range list {
		m[key(v)] = v
	}
	return m
}

// place picks where a value was written, or the header where it was left out.
func place[T any](v spec.Value[T], header diag.Range) diag.Range {
	if v.Set {
		return v.Range
	}
	return header
}
