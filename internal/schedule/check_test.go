package schedule

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"towpath/internal/plan"
	"towpath/internal/units"
)

// What no placement could mend is refused before any is looked for.
func TestCheck(t *testing.T) {
	pin := func(day, minutes int) func(*plan.Block) {
		return func(b *plan.Block) {
			r := b.Weeks[0].Rides[0]
			b.Weeks[0].Given = []*plan.Given{{Date: monday.Add(day), Minutes: units.Minutes(minutes), Ride: r, Session: r.Session, Range: at(40)}}
		}
	}
	tests := []struct {
		name            string
		change          func(*plan.Block)
		code            string
		summary, detail string
	}{
		{
			"a day too short", pin(1, 75), "day-too-short",
			"free of week 1 lasts 75 min, but Tuesday can hold 60 min",
			"Tuesday 2027-03-02 is the day. Give it 75 min, shorten the session, or put it on a day that holds it.",
		},
		{
			"a closed day", pin(0, 75), "day-too-short",
			"free of week 1 is on Monday 2027-03-01, a day without riding",
			`Open the day, for example on = { "2027-03-01" = "75 min" }, leave the week out, or choose another day.`,
		},
		{
			"too many rides", func(b *plan.Block) {
				for range 8 {
					b.Weeks[0].Rides = append(b.Weeks[0].Rides, rideOf("more", 30, 60))
				}
			}, "too-many-rides",
			"Week 1 has 9 kinds of ride; at most 8 can be placed",
			"Let fewer rides take part in the week, or put some on their days yourself.",
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			b := weekOf(300).block()
			tt.change(b)
			s, diags := Place(b, nil, 0)
			if len(diags) != 1 || len(s.Weeks) > 0 {
				t.Fatalf("got %d weeks and %+v", len(s.Weeks), diags)
			}
			got := []string{diags[0].Code, diags[0].Summary, diags[0].Detail}
			if diff := cmp.Diff([]string{tt.code, tt.summary, tt.detail}, got); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
		})
	}
}
