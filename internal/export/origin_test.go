package export

import (
	"bytes"
	"encoding/json"
	"fmt"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"towpath/internal/diag"
	"towpath/internal/prescription"
)

// readOrigin is an origin as a reader of plan.json meets it.
type readOrigin struct {
	What, File, Source string
	Line               int
	From               []readOrigin
}

// told resolves an origin by the rule that the schema states: where from is null, the nearest origin
// before with the same words, file, line and source has told it.
func (o readOrigin) told(before map[string][]readOrigin) (readOrigin, error) {
	key := fmt.Sprint(o.What, "\x00", o.File, "\x00", o.Source, "\x00", o.Line)
	if o.From == nil {
		from, ok := before[key]
		if !ok {
			return o, fmt.Errorf("nothing before tells where %q comes from", o.What)
		}
		o.From = from
		return o, nil
	}
	for i, from := range o.From {
		var err error
		if o.From[i], err = from.told(before); err != nil {
			return o, err
		}
	}
	before[key] = o.From
	return o, nil
}

func TestOriginsCanBeReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := spring()
		want := []readOrigin{}
		for i := range p.Sessions {
			s := &p.Sessions[i]
			s.Targets.PowerOrigin, s.Targets.HeartRateOrigin, s.Targets.EffortOrigin = nil, nil, nil
			s.Origin = drawOrigin(t, 4)
			if rapid.Bool().Draw(t, "target") {
				power := drawOrigin(t, 3)
				s.Targets.PowerOrigin = &power
			}
			want = append(want, wanted(s))
		}
		var buf bytes.Buffer
		if err := JSON(&buf, p, nil, nil, "towpath"); err != nil {
			t.Fatal(err)
		}
		var doc struct{ Sessions []struct{ Origin readOrigin } }
		if err := json.Unmarshal(buf.Bytes(), &doc); err != nil {
			t.Fatal(err)
		}
		got, before := []readOrigin{}, map[string][]readOrigin{}
		for _, s := range doc.Sessions {
			o, err := s.Origin.told(before)
			if err != nil {
				t.Fatal(err)
			}
			got = append(got, o)
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("(-want +got)\n%s", diff)
		}
	})
}

// drawOrigin draws from few words and lines, so that the same ones come often.
func drawOrigin(t *rapid.T, depth int) diag.Origin {
	o := diag.Origin{
		What:      rapid.SampledFrom([]string{"ceiling 140 W", "floor 105 W", "threshold 148 W"}).Draw(t, "what"),
		SourceKey: rapid.SampledFrom([]string{"", "a_source"}).Draw(t, "source"),
	}
	if line := rapid.IntRange(0, 2).Draw(t, "line"); line > 0 {
		o.Range = rangeAt(line)
	}
	if depth > 0 {
		for range rapid.IntRange(0, 2).Draw(t, "parts") {
			o.From = append(o.From, drawOrigin(t, depth-1))
		}
	}
	return o
}

func wanted(s *prescription.Session) readOrigin {
	o := readable(s.Origin)
	if s.Targets.PowerOrigin != nil {
		o.From = append(o.From, readable(*s.Targets.PowerOrigin))
	}
	return o
}

func readable(o diag.Origin) readOrigin {
	out := readOrigin{What: o.What, File: o.Range.Filename, Source: o.SourceKey, Line: o.Range.Start.Line, From: []readOrigin{}}
	for _, from := range o.From {
		out.From = append(out.From, readable(from))
	}
	return out
}

// What many sessions share is told once.
func TestSharedOriginsAreToldOnce(t *testing.T) {
	p := spring()
	shared := diag.Origin{What: "shared ceiling", From: []diag.Origin{{What: "shared threshold"}}}
	for i := range p.Sessions {
		p.Sessions[i].Targets.PowerOrigin = &shared
	}
	var buf bytes.Buffer
	if err := JSON(&buf, p, nil, nil, "towpath"); err != nil {
		t.Fatal(err)
	}
	if n := bytes.Count(buf.Bytes(), []byte("shared ceiling")); n != len(p.Sessions) {
		t.Errorf("the ceiling stands %d times, want once per session", n)
	}
	if n := bytes.Count(buf.Bytes(), []byte("shared threshold")); n != 1 {
		t.Errorf("the threshold stands %d times, want once", n)
	}
	if err := validate(t, schemaOf(t, "plan.json"), buf.Bytes()); err != nil {
		t.Error(err)
	}
}
