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
	rosters   map[*spec.Roster]*rosterRead
	unclear   map[string]bool // athletes of whom it is not clear what holds
	parts     []diag.Part     // what was said of single athletes
}

// Resolve turns a specification into blocks. A block that lacks something essential is left out,
// with the reason among the diagnostics; the others are whole.
//
// asOf is the day before which days are past; zero stands for the day of each athlete's record.
// What is said of single athletes stands in the plan's Parts.
//
// The order matters: sessions and protocols first, since rides and test days name them; then who
// rides which block, with what squads give and what a block has for some; then for each block its
// athlete, the bands in force, the weeks' kinds and totals, and last what is given in each week,
// which needs all of them.
func Resolve(s *spec.Spec, records map[string]*record.Athlete, asOf units.Date) (*Plan, diag.List) {
	r := &resolver{
		spec:      s,
		athletes:  map[string]*spec.Athlete{},
		meters:    byKey(s.Meters, func(m *spec.Meter) string { return m.Key }),
		tests:     byKey(s.Tests, func(t *spec.Test) string { return t.Key }),
		bands:     byKey(s.Bands, func(b *spec.Band) string { return b.Key }),
		sessions:  map[string]*Session{},
		protocols: map[string]*Session{},
		readings:  map[string]*reading{},
		rosters:   map[*spec.Roster]*rosterRead{},
		unclear:   map[string]bool{},
	}
	for _, a := range s.Athletes {
		r.athletes[a.Key] = r.withDefaults(a)
	}
	r.checkSquads()
	r.checkFixed()
	for _, session := range s.Sessions {
		r.sessions[session.Key] = r.session(session)
	}
	for _, protocol := range s.Protocols {
		r.protocols[protocol.Key] = r.session(protocol)
	}
	r.replaced("session", s.Sessions)
	r.replaced("protocol", s.Protocols)
	p := &Plan{ID: s.ID.V}
	last := map[string]*Block{} // by athlete, the block before
	entries := r.entries()
	common := r.diags
	for _, e := range entries {
		who := e.athlete.Key
		rec := records[who]
		r.diags = e.diags
		b := r.block(e, last[who], rec, rec.PastUntil(asOf))
		r.parts = append(r.parts, diag.Part{Block: e.block.Key, Who: who, List: r.diags})
		if b != nil {
			b.PlanID, b.Faulty = p.ID, r.unclear[who] || r.diags.HasErrors()
			p.Blocks = append(p.Blocks, b)
			if before := last[who]; before != nil {
				before.Next = b.Start
			}
			last[who] = b
		}
	}
	r.diags = common
	slices.SortStableFunc(p.Blocks, func(a, b *Block) int {
		return cmp.Or(cmp.Compare(a.Athlete.Key, b.Athlete.Key), cmp.Compare(a.Start, b.Start), cmp.Compare(a.Key, b.Key))
	})
	r.checkOverlaps(p.Blocks)
	if len(s.Blocks) == 0 && !s.Broken {
		at := s.ID.Range
		r.add(diag.Error, "no-block", at, "The plan has no block", `A block says when, how many weeks, how many hours and which rides: block "autumn" { … }.`)
	}
	p.Parts = r.parts
	return p, r.diags.Sorted()
}

// replaced says once of each definition that it stands in the place of a built-in one: that may be
// meant, or a name taken by chance.
func (r *resolver) replaced(kind string, all []*spec.Session) {
	for _, s := range all {
		if s.Replaces.Filename != "" {
			r.add(diag.Advice, "replaces-built-in", s.Header, fmt.Sprintf("This %s replaces the built-in %q", kind, s.Key),
				fmt.Sprintf("Every %s.%s of the plan means this one. Where that is not meant, give it a name of its own.", kind, s.Key),
				diag.Related{Message: "the built-in one", Range: s.Replaces})
		}
	}
}

// athletesOf lists who rides a block: those it names and those of its squads, each once, or the
// plan's only athlete.
func (r *resolver) athletesOf(b *spec.Block) []*spec.Athlete {
	refs := slices.Clone(b.Athletes)
	for _, ref := range b.Squads {
		for _, s := range r.spec.Squads {
			if s.Key == ref.V.Key {
				refs = append(refs, s.Athletes...)
			}
		}
	}
	var out []*spec.Athlete
	for _, ref := range refs {
		if a := r.athletes[ref.V.Key]; a != nil && !slices.Contains(out, a) {
			out = append(out, a)
		}
	}
	if len(b.Athletes)+len(b.Squads) > 0 {
		return out
	}
	if len(r.spec.Athletes) == 1 {
		return []*spec.Athlete{r.athletes[r.spec.Athletes[0].Key]}
	}
	if len(r.spec.Athletes) > 1 || !r.spec.Broken {
		r.add(diag.Error, "block-without-athlete", b.Header, fmt.Sprintf("Block %q does not say who rides it", b.Key),
			fmt.Sprintf("The plan has %d athletes; name them: athletes = [athlete.…], or squads = [squad.…].", len(r.spec.Athletes)))
	}
	return nil
}

// checkOverlaps refuses two blocks of one athlete that share a date. The blocks are in order of
// athlete and start; each is held against the one before it that ends last.
func (r *resolver) checkOverlaps(blocks []*Block) {
	var last *Block
	for _, b := range blocks {
		if last == nil || last.Athlete.Key != b.Athlete.Key {
			last = b
			continue
		}
		if last.End() >= b.Start {
			b.Faulty, last.Faulty = true, true
			r.ofAthlete(b.Key, b.Athlete.Key, "blocks-overlap", b.Range, fmt.Sprintf("Block %q begins on %s, before block %q has ended on %s", b.Key, b.Start, last.Key, last.End()),
				fmt.Sprintf("%s can ride one block at a time. Start it on %s or later, or shorten the other.", b.Athlete.Name, last.End().Add(1)),
				diag.Related{Message: "the other block", Range: last.Range})
		}
		if b.End() > last.End() {
			last = b
		}
	}
}

// add reports one thing.
func (r *resolver) add(severity diag.Severity, code string, at diag.Range, summary, detail string, related ...diag.Related) {
	r.diags.Add(diag.Diagnostic{Code: code, Severity: severity, Subject: at, Summary: summary, Detail: detail, Related: related})
}

// ofAthlete reports an error in one athlete's plan.
func (r *resolver) ofAthlete(block, who, code string, at diag.Range, summary, detail string, related ...diag.Related) {
	r.parts = append(r.parts, diag.Part{Block: block, Who: who, List: diag.List{{Code: code, Severity: diag.Error, Subject: at, Summary: summary, Detail: detail, Related: related}}})
}

// offer puts before what is said of a word that is not known the nearest one that is, if there is one,
// and adds the edit that writes it, with the quotes that stand around it in the text.
func offer(d *diag.Diagnostic, near, quote string) {
	if near == "" {
		return
	}
	text := quote + near + quote
	d.Detail = fmt.Sprintf("The nearest is %q. ", near) + d.Detail
	d.Fix = &diag.Fix{Title: "Write " + text, Edits: []diag.Edit{{Range: d.Subject, Text: text}}}
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
