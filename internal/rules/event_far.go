package rules

import (
	"fmt"

	"towpath/internal/diag"
	"towpath/internal/physiology"
	"towpath/internal/plan"
	"towpath/internal/prescription"
)

var eventFar = Rule{
	Code:  "event-far",
	Title: "An event lasts much longer than any ride before it",
	Why: "What a long day asks for, eating, sitting, holding back, is learnt on long rides. Nobody has to ride the length of an event beforehand, but from under half of it the step is large. " +
		"The rides of the block before the event count, and the longest of the month before the block; an event that comes more than a month after the block is left to the blocks still to come.",
	Mend:     "Let the long ride grow towards half of the event, begin earlier, or plan the event with long stops, or a shorter one.",
	Default:  fmt.Sprintf("Advice under %s of what the event lasts.", physiology.EventShare.Value),
	Evidence: "Common practice, no source.",
	basis:    "Common practice, no source",
	check:    checkEventFar,
}

func checkEventFar(p *prescription.Prescription) (out []finding) {
	for _, e := range p.Block.Events {
		if e.Lasts == 0 || !trainsFor(p.Block, e) {
			continue
		}
		longest, of := p.Block.Athlete.Longest, "one before the block"
		for _, r := range rides(p) {
			if r.Date < e.Date && r.Minutes > longest {
				longest, of = r.Minutes, r.String()
			}
		}
		share := float64(physiology.EventShare.Value) * float64(e.Lasts)
		if longest == 0 || float64(longest) >= share-slack {
			continue
		}
		f := finding{
			severity: diag.Advice, subject: e.Range,
			summary: fmt.Sprintf("%s on %s lasts %s, and the longest ride before it %s", e.Title, onDay(e.Date), e.Lasts, longest),
			detail: fmt.Sprintf("The longest is %s; by default at least %s of an event is ridden at a time before it. A ride of %s keeps it, reached in steps",
				of, physiology.EventShare.Value, ceil5(share)),
			related: []diag.Related{{Message: "the block", Range: p.Block.Range}},
		}
		if w := p.Block.WeekOn(e.Date); w != nil {
			f.weeks = []int{w.Number}
		}
		out = append(out, f)
	}
	return out
}

// trainsFor reports whether a block is the one that leads up to an event: the athlete's last that
// begins before it, and not long over by then.
func trainsFor(b *plan.Block, e *plan.Event) bool {
	const daysInWeek = 7
	return e.Date > b.Start && (b.Next.IsZero() || e.Date <= b.Next) && e.Date.Sub(b.End()) <= daysInWeek*physiology.RecentWeeks.Value
}
