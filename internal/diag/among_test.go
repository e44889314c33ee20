package diag

import (
	"testing"

	"github.com/google/go-cmp/cmp"
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
			for _, d := range Among(tt.parts) {
				got = append(got, d.Summary)
			}
			if diff := cmp.Diff(tt.want, got); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
		})
	}
}
