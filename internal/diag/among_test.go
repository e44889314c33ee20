package diag

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/hashicorp/hcl/v2"
)

func TestAmong(t *testing.T) {
	said := func(summaries ...string) (out List) {
		for _, s := range summaries {
			out.Add(Diagnostic{Code: "c", Summary: s})
		}
		return out
	}
	waived := said("late")
	waived[0].Waived = &Waiver{Reason: "agreed"}
	tests := []struct {
		name  string
		parts []Part
		want  []string
	}{
		{"one athlete", []Part{{"spring", "a", said("late")}}, []string{"late"}},
		{"all of them", []Part{{"spring", "a", said("late")}, {"spring", "b", said("late")}}, []string{"late"}},
		{"some of them", []Part{{"spring", "a", said("late")}, {"spring", "b", said("early")}, {"spring", "c", said("late")}}, []string{"late (a, c)", "early (b)"}},
		{"most of many", []Part{{"spring", "a", said("late")}, {"spring", "b", said("late")}, {"spring", "c", said("late")}, {"spring", "d", said("late")}, {"spring", "e", nil}}, []string{"late (a, b and 2 more)"}},
		{"named already", []Part{{"spring", "a", said(`rider "a" is late`)}, {"spring", "b", nil}}, []string{`rider "a" is late`}},
		{"the same twice of one", []Part{{"spring", "a", said("late", "late")}}, []string{"late"}},
		{"in two blocks, one of which is another's as well", []Part{{"spring", "a", said("late")}, {"spring", "b", nil}, {"summer", "a", said("late")}}, []string{"late (a)"}},
		{"in two blocks, by all who ride them", []Part{{"spring", "a", said("late")}, {"summer", "a", said("late")}, {"autumn", "b", nil}}, []string{"late"}},
		{"waived for one", []Part{{"spring", "a", said("late")}, {"spring", "b", waived}}, []string{"late (a)", "late (b)"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var got []string
			for _, d := range Among(tt.parts, func(Range) bool { return false }) {
				got = append(got, d.Summary)
			}
			if diff := cmp.Diff(tt.want, got); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
		})
	}
}

// What would mend one athlete's plan by a line that others share is not offered as an edit.
func TestAmongKeepsSharedText(t *testing.T) {
	mended := func(line int) List {
		at := Range{Start: hcl.Pos{Line: line}}
		return List{{Summary: "late", Subject: at, Fix: &Fix{Edits: []Edit{{Range: at}}}}}
	}
	shared := func(at Range) bool { return at.Start.Line == 1 }
	for _, tt := range []struct {
		name  string
		parts []Part
		fixed bool
	}{
		{"of one, in shared text", []Part{{"spring", "a", mended(1)}, {"spring", "b", nil}}, false},
		{"of one, in its own text", []Part{{"spring", "a", mended(2)}, {"spring", "b", nil}}, true},
		{"of all, in shared text", []Part{{"spring", "a", mended(1)}, {"spring", "b", mended(1)}}, true},
		{"of the only one", []Part{{"spring", "a", mended(1)}}, true},
	} {
		if got := Among(tt.parts, shared); len(got) != 1 || (got[0].Fix != nil) != tt.fixed {
			t.Errorf("%s: got %+v", tt.name, got)
		}
	}
}
