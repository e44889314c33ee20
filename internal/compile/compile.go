// Package compile drives the stages: a plan's folder goes in, prescriptions and findings come
// out. It is a function of its input: no clock, no environment, no network, and it reads only
// through the file system that it is given.
package compile

import (
	"io/fs"
	"slices"

	"towpath/internal/diag"
	"towpath/internal/physiology"
	"towpath/internal/plan"
	"towpath/internal/prescription"
	"towpath/internal/record"
	"towpath/internal/rules"
	"towpath/internal/schedule"
	"towpath/internal/source"
	"towpath/internal/spec"
	"towpath/internal/syntax"
	"towpath/internal/units"
)

// Input is all that a compilation depends on.
type Input struct {
	FS       fs.FS                      // rooted at the repository
	Dir      string                     // the plan's folder or file, from the root
	Library  fs.FS                      // built-in sessions and protocols
	Records  map[string]*record.Athlete // what was delivered, by athlete
	AsOf     units.Date                 // zero: the records' date, and without records no day is past
	Athletes []string                   // keys; nil: all
}

// Result is all that a compilation yields. A prescription is whole only where Findings holds no
// error.
type Result struct {
	Files         []*syntax.File
	Spec          *spec.Spec
	Plan          *plan.Plan
	Prescriptions []*prescription.Prescription // by athlete, then start of the block
	Findings      diag.List                    // sorted; waived ones included

	common diag.List // of the findings, what speaks of no single athlete
	// What was found with each: in what is written, which is mended where it stands, and in what
	// becomes of it.
	written, made []diag.Part
}

// Of is the result for one athlete: what is found with others is none of it.
func (r Result) Of(athlete string) Result {
	others := func(p diag.Part) bool { return p.Who != athlete }
	r.written = slices.DeleteFunc(slices.Clone(r.written), others)
	r.made = slices.DeleteFunc(slices.Clone(r.made), others)
	r.Prescriptions = slices.DeleteFunc(slices.Clone(r.Prescriptions), func(p *prescription.Prescription) bool { return p.Block.Athlete.Key != athlete })
	r.Findings = r.all()
	return r
}

// all joins the findings.
func (r *Result) all() diag.List {
	return slices.Concat(r.common, diag.Among(r.written, nowhere), diag.Among(r.made, sharedText(r.Files))).Sorted()
}

// Compile runs every stage. A stage works on what the one before could make, and what it says of
// a piece of text that was already found faulty is dropped: one cause, one message.
func Compile(in Input) Result {
	set, findings := source.Load(in.FS, in.Dir, in.Library)
	res := Result{Files: set.Files}

	var diags diag.List
	res.Spec, diags = spec.Decode(spec.Input{Files: set.Files, ReadData: set.ReadData, Partial: findings.HasErrors()})
	findings.Add(diags...)
	faulty := faultyBlocks(set.Files, findings)
	res.Spec.Broken = res.Spec.Broken || findings.HasErrors()

	res.Plan, diags = plan.Resolve(res.Spec, in.Records, in.AsOf)
	findings.Add(withoutEchoes(diags, faulty)...)
	res.common = findings
	for _, p := range res.Plan.Parts {
		if p.List = withoutEchoes(p.List, faulty); !in.wants(p.Who) {
			p.List = nil
		}
		res.written = append(res.written, p)
	}
	forOthers := nowhere
	if !res.Spec.Broken {
		for _, b := range res.Plan.Blocks {
			part, before := diag.Part{Block: b.Key, Who: b.Athlete.Key}, len(res.Prescriptions)
			if in.wants(part.Who) {
				follow(b, res.Prescriptions)
				part.List = block(in, b, &res)
			}
			if len(res.Prescriptions) == before {
				forOthers = sharedText(res.Files)
			}
			res.made = append(res.made, part)
		}
	}
	rules.UsedBySome(res.made, forOthers)
	res.Findings = res.all()
	return res
}

func (in Input) wants(athlete string) bool {
	return in.Athletes == nil || slices.Contains(in.Athletes, athlete)
}

// block takes one athlete's block from its place in the plan to what the rider sees.
func block(in Input, b *plan.Block, res *Result) diag.List {
	if b.Faulty {
		return nil
	}
	rec := in.Records[b.Athlete.Key]
	when := rec.PastUntil(in.AsOf)
	placed, findings := place(b, rec, when)
	if findings.HasErrors() {
		return findings
	}
	prescribed, diags := prescription.Prescribe(placed, when)
	findings.Add(diags...)
	if diags.HasErrors() {
		return findings
	}
	findings.Add(rules.Check(prescribed)...)
	res.Prescriptions = append(res.Prescriptions, prescribed)
	return findings
}

// place puts a block on days. A loading week that gets less than its total, because it takes what
// fits or within its tolerance, is no reference for the weeks after it, which are reckoned and
// placed anew: at most once a week.
func place(b *plan.Block, rec *record.Athlete, when units.Date) (*schedule.Schedule, diag.List) {
	for done := 0; ; {
		placed, findings := schedule.Place(b, rec, when)
		if !b.TakeWhatFits && b.Tolerance == 0 || findings.HasErrors() {
			return placed, findings
		}
		short := slices.IndexFunc(placed.Weeks, func(w schedule.Week) bool {
			return w.Number > done && w.Kind == plan.Loading && w.Asked-w.Placed >= physiology.Quantum.Value
		})
		if short < 0 {
			return placed, findings
		}
		done = placed.Weeks[short].Number
		b.NoReference(done)
	}
}

// follow lets a block know the longest ride of the athlete's block before it, which only its
// prescription tells: what the plan says of the longest ride was written for that one.
func follow(b *plan.Block, done []*prescription.Prescription) {
	if len(done) == 0 {
		return
	}
	before, first := done[len(done)-1], b.Start.Add(-physiology.SpikeDays.Value)
	if before.Block.Athlete.Key != b.Athlete.Key || before.Block.End() < first {
		return
	}
	longest := b.Athlete.Longest
	if before.Block.Start <= first {
		longest = 0 // the days that count lie within the block before
	}
	for i := range before.Sessions {
		if s := &before.Sessions[i]; s.Date >= first {
			longest = max(longest, s.Minutes)
		}
	}
	b.Athlete.Longest = longest
}
