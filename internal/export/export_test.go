package export

import (
	"bytes"
	"encoding/json"
	"flag"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/santhosh-tekuri/jsonschema/v6"
	"pgregory.net/rapid"

	"towpath/internal/diag"
	"towpath/internal/plan"
	"towpath/internal/prescription"
	"towpath/internal/record"
	"towpath/internal/schedule"
	"towpath/internal/threshold"
	"towpath/internal/units"
	"towpath/schemas"
)

var update = flag.Bool("update", false, "rewrite the golden files")

func ptr[T any](v T) *T { return &v }

func rangeAt(line int) diag.Range {
	r := diag.Range{Filename: "plans/spring.hcl"}
	r.Start.Line, r.Start.Column, r.Start.Byte = line, 3, 20*line
	r.End.Line, r.End.Column, r.End.Byte = line, 9, 20*line+6
	return r
}

// spring is a block of one week, of our own invention: a ride in the evening, an indoor ride with
// repeats, a long ride without an hour, a test abroad, and a second ride of one day.
func spring() *prescription.Prescription {
	start := units.NewDate(2026, 3, 23)
	band := &plan.Band{
		Key: "spring", From: start.Add(-9), Power: units.Range[units.Power]{Low: 105.04, High: 140.06},
		Threshold: 148.55, ThresholdKnown: true, Scale: 1,
		HeartRate: &units.Range[units.HeartRate]{Low: 112.2, High: 131.96},
		Effort:    &units.Range[units.Effort]{Low: 9, High: 11.5},
		Estimate:  &threshold.Estimate{Method: "median_of_three", Power: 148.55, SE: 12.649},
		Result: &threshold.Result{First: []threshold.Method{
			{ID: "loglog_continuous", Power: ptr(units.Power(151.2))},
			{ID: "baseline_plus_0.3", Power: ptr(units.Power(148.55))},
			{ID: "gas", Power: nil},
		}},
	}
	week := &plan.Week{Number: 1, Start: start, Kind: plan.Loading, Asked: 390}
	block := &plan.Block{
		PlanID: "p3k9x2ma", Key: "spring", Title: "Spring base", Start: start, Weeks: []*plan.Week{week}, Bands: []*plan.Band{band},
		Athlete: &plan.Athlete{Key: "jo", Zone: "Europe/Lisbon", HeartRate: plan.HeartRate{Resting: 52, Usable: true}},
	}
	placed := &schedule.Week{Week: week, Placed: 385, Mix: []schedule.Mix{
		{Ride: &plan.Ride{Key: "long"}, Wished: 195, Placed: 190},
		{Ride: &plan.Ride{Key: "steady"}, Wished: 75, Placed: 75},
	}}
	p := &prescription.Prescription{
		Block:    block,
		Schedule: &schedule.Schedule{Block: block, Weeks: []schedule.Week{*placed}},
		AsOf:     start.Add(1),
		Weeks: []prescription.Week{{
			Week: placed,
			Load: prescription.Load{
				Work:       &prescription.Three[units.Energy]{Low: 2210.4, Mid: 2380.5, High: 2541.49},
				TRIMP:      &prescription.Three[float64]{Low: 201.04, Mid: 222.25, High: 240},
				SessionRPE: ptr(812.5),
			},
			Monotony: ptr(1.23456), MonotonyScale: prescription.TrainingImpulse,
		}},
		Sessions: []prescription.Session{steadySession(start.Add(1)), repeatsSession(start.Add(3)), longSession(start.Add(6)), testSession(start.Add(6))},
	}
	second := steadySession(start.Add(1))
	second.Key, second.UID, second.Start = "spring/w01/steady-2", "0b9f3b1e-7f0c-5d59-9d8e-6a5a1f6f2f01", units.NewClock(20, 15)
	p.Sessions = append(p.Sessions[:1], append([]prescription.Session{second}, p.Sessions[1:]...)...)
	for i := range p.Sessions {
		p.Sessions[i].Band = band
	}
	return p
}

func power(low, high int) *units.Range[int] { return &units.Range[int]{Low: low, High: high} }

func atMost(high int) *prescription.Bounds { return &prescription.Bounds{High: high} }

func steadySession(d units.Date) prescription.Session {
	main := prescription.Targets{Power: power(117, 128), HeartRate: atMost(133), Effort: ptr(11)}
	s := prescription.Session{
		Key: "spring/w01/steady-1", UID: "5f4c9a52-1a5e-5a0e-8a44-3a1d5e0f7c11", Week: 1, Date: d, Start: units.NewClock(18, 30),
		Zone: "Europe/Lisbon", Place: "outdoor", Ride: "steady", Session: "steady", Title: "75 min steady · 117-128 W", Name: "Steady",
		Minutes: 75, Leads: "power", Why: "Time in the middle of the band; easy, and \"easy\" again.",
		Feel: "Whole sentences come easily.", IfWrong: "Heart rate above its cap for 10 min: 10 W off.", Targets: main,
		Steps: []prescription.Step{
			{Name: "warm_up", Kind: prescription.Ramp, Role: prescription.WarmUp, Duration: 600, Targets: prescription.Targets{Power: power(74, 104), Effort: ptr(10)}},
			{Name: "work", Kind: prescription.Steady, Role: prescription.Work, Duration: 3600, Targets: main, Cadence: power(80, 95)},
			{Name: "cool_down", Kind: prescription.Steady, Role: prescription.CoolDown, Duration: 300, Targets: prescription.Targets{Power: power(74, 105)}},
		},
		Load:   prescription.Load{Work: &prescription.Three[units.Energy]{Low: 480.6, Mid: 512.2, High: 544}, TRIMP: &prescription.Three[float64]{Low: 40.04, Mid: 44.25, High: 48.06}, SessionRPE: ptr(150.0)},
		Origin: diag.Origin{What: "Tuesday holds 75 min", Range: rangeAt(12)},
	}
	s.Targets.PowerOrigin = &diag.Origin{What: "33-67 % of the band", Range: rangeAt(31), From: []diag.Origin{
		{What: "ceiling 140.1 W", Range: rangeAt(20)}, {What: "median of three methods", SourceKey: "some_source"},
	}}
	return s
}

func repeatsSession(d units.Date) prescription.Session {
	work := prescription.Targets{Power: power(129, 140), HeartRate: atMost(133), Effort: ptr(12)}
	return prescription.Session{
		Key: "spring/w01/upper-1", UID: "f20a7a0e-4f0e-5c52-b0bb-51a6a6c5f0a2", Week: 1, Date: d, Start: units.NewClock(6, 45),
		Zone: "Europe/Lisbon", Place: "indoor", Ride: "upper", Session: "upper_third", Title: "60 min upper third · 129-140 W", Name: "Upper third",
		Minutes: 60, Leads: "heart_rate", Targets: work, Given: true,
		Steps: []prescription.Step{
			{Name: "warm_up", Kind: prescription.Ramp, Role: prescription.WarmUp, Duration: 720, Targets: prescription.Targets{Power: power(74, 104)}},
			{Kind: prescription.Rounds, Role: prescription.Work, Times: 3, Duration: 900, Steps: []prescription.Step{
				{Name: "work", Kind: prescription.Steady, Role: prescription.Work, Duration: 720, Targets: prescription.Targets{Power: work.Power, HeartRate: &prescription.Bounds{Low: ptr(118), High: 133}, Effort: ptr(12)}},
				{Name: "ease", Kind: prescription.Steady, Role: prescription.Ease, Duration: 180, Targets: prescription.Targets{Power: power(74, 105)}},
			}},
			{Name: "cool_down", Kind: prescription.Ramp, Role: prescription.CoolDown, Duration: 180, Falling: true, Targets: prescription.Targets{Power: power(74, 100)}},
		},
	}
}

func longSession(d units.Date) prescription.Session {
	return prescription.Session{
		Key: "spring/w01/long-1", UID: "9d7b24b1-53cb-5f6e-8a3e-0c8e7dfb5a33", Week: 1, Date: d, Zone: "Europe/Lisbon", Place: "outdoor",
		Ride: "long", Session: "long_ride", Title: "3 h 10 min long ride · effort at most 11", Name: "Long ride", Minutes: 190, Leads: "effort",
		Why: "Hours in the saddle.", Note: "Crème brûlée at the turn — then home.", Targets: prescription.Targets{Effort: ptr(11)},
		Steps: []prescription.Step{
			{Name: "work", Kind: prescription.Open, Role: prescription.Work, Duration: 190 * 60, Targets: prescription.Targets{Effort: ptr(11)}, Note: "Eat every half hour."},
		},
		Drift:      []prescription.Drift{{After: 90, Beats: 5}, {After: 150, Beats: 10}},
		LateEffort: &prescription.LateEffort{Last: 30, Effort: 13},
	}
}

func testSession(d units.Date) prescription.Session {
	return prescription.Session{
		Key: "spring/w01/retest-1", UID: "1f1c8a3c-0b3c-5b8b-9a36-84d15b7c1d44", Week: 1, Date: d, Start: units.NewClock(10, 0),
		Zone: "America/Santiago", Place: "laboratory", Session: "all_out_3min", Title: "45 min three minutes all out", Name: "Three minutes all out",
		Minutes: 45, Leads: "power", Given: true, Maximal: true, Stop: "Stop at any warning sign.",
		Steps: []prescription.Step{
			{Name: "warm_up", Kind: prescription.Ramp, Role: prescription.WarmUp, Duration: 1200, Targets: prescription.Targets{Power: power(74, 134)}},
			{Name: "effort", Kind: prescription.Open, Role: prescription.Work, Duration: 180, AllOut: true},
			{Name: "cool_down", Kind: prescription.Steady, Role: prescription.CoolDown, Duration: 1320, Targets: prescription.Targets{Power: power(74, 105)}},
		},
	}
}

func springFindings() diag.List {
	return diag.List{
		{
			Code: "long-share", Severity: diag.Advice, Summary: "The long ride holds 49 % of week 1", Detail: "45 % is advised.", Subject: rangeAt(40),
			Related: []diag.Related{{Message: "the week's total", Range: rangeAt(41)}}, Fix: &diag.Fix{Title: "shorten", Edits: []diag.Edit{{Range: rangeAt(40), Text: "\"45 %\""}}},
		},
		{Code: "session-spike", Severity: diag.Warning, Summary: "Longer than ever", Subject: rangeAt(44), Waived: &diag.Waiver{Reason: "A flat road."}},
	}
}

func bundle(t testing.TB, p *prescription.Prescription, findings diag.List, rec *record.Athlete) []File {
	t.Helper()
	files, err := Bundle(p, findings, Options{Generator: "towpath (test)", Record: rec})
	if err != nil {
		t.Fatal(err)
	}
	return files
}

func content(t testing.TB, files []File, name string) []byte {
	t.Helper()
	for _, f := range files {
		if f.Name == name {
			return f.Bytes
		}
	}
	t.Fatalf("no file %s", name)
	return nil
}

const goldenDir = "../../testdata/export"

func TestGolden(t *testing.T) {
	rec := &record.Athlete{Sessions: []record.Session{{UID: steadySession(0).UID, Sequence: 2, RevisedAt: "2026-03-20T08:00:00+01:00"}}}
	for name, files := range map[string][]File{
		"spring": bundle(t, spring(), springFindings(), rec),
		"autumn": bundle(t, autumn(), nil, nil),
	} {
		dir := filepath.Join(goldenDir, name)
		if *update {
			if err := os.RemoveAll(dir); err != nil {
				t.Fatal(err)
			}
			writeAll(t, dir, files)
		}
		for _, f := range files {
			want, err := os.ReadFile(filepath.Join(dir, filepath.FromSlash(f.Name)))
			if err != nil {
				t.Errorf("%v (go test ./internal/export -update writes it)", err)
				continue
			}
			if !bytes.Equal(want, f.Bytes) {
				t.Errorf("%s of %s differs from its golden file:\n%s", f.Name, name, cmp.Diff(string(want), string(f.Bytes)))
			}
		}
	}
}

func TestBundleIsDeterministic(t *testing.T) {
	a, b := bundle(t, spring(), springFindings(), nil), bundle(t, spring(), springFindings(), nil)
	if diff := cmp.Diff(a, b); diff != "" {
		t.Errorf("two runs differ:\n%s", diff)
	}
}

func TestManifest(t *testing.T) {
	files := bundle(t, spring(), nil, nil)
	last := files[len(files)-1]
	if last.Name != ManifestName {
		t.Fatalf("the last file is %s", last.Name)
	}
	m, err := ReadManifest(last.Bytes)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(NewManifest(files[:len(files)-1]), m); diff != "" {
		t.Error(diff)
	}
	for _, bad := range []string{"../x", "/etc/passwd", "a/../../b", "files.json", "", ".", `a\b`, "c:x", "workouts/"} {
		data, err := json.Marshal(Manifest{Files: []Entry{{Name: bad}}})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := ReadManifest(data); err == nil {
			t.Errorf("the name %q was accepted", bad)
		}
	}
	if _, err := ReadManifest([]byte("no json")); err == nil {
		t.Error("a broken manifest was accepted")
	}
}

func TestWorkoutNames(t *testing.T) {
	day := units.NewDate(2026, 3, 24)
	sessions := []prescription.Session{
		{Date: day, Ride: "steady", Session: "x"},
		{Date: day, Ride: "steady"},
		{Date: day, Session: "lactate_step"},
		{Date: day + 1, Ride: "steady"},
		{Date: day, Ride: "../Étape\x00"},
		{Date: day, Ride: "steady-2"},
		{Date: day, Ride: "steady_2"},
	}
	want := []string{
		"2026-03-24-steady.fit", "2026-03-24-steady-2.fit", "2026-03-24-lactate_step.fit",
		"2026-03-25-steady.fit", "2026-03-24-___etape.fit", "2026-03-24-steady_2.fit", "2026-03-24-steady_2-2.fit",
	}
	if diff := cmp.Diff(want, workoutNames(workoutsOf(sessions))); diff != "" {
		t.Error(diff)
	}
}

// schemaOf compiles one of our schemas with formats asserted.
func schemaOf(t testing.TB, name string) *jsonschema.Schema {
	t.Helper()
	c := jsonschema.NewCompiler()
	c.AssertFormat()
	data, err := schemas.FS.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	if err := c.AddResource("urn:test:"+name, doc); err != nil {
		t.Fatal(err)
	}
	return c.MustCompile("urn:test:" + name)
}

func validate(t testing.TB, schema *jsonschema.Schema, data []byte) error {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
	if err != nil {
		t.Fatalf("%v in\n%s", err, data)
	}
	return schema.Validate(doc)
}

func TestSchemas(t *testing.T) {
	files := bundle(t, spring(), springFindings(), nil)
	planJSON := content(t, files, PlanName)
	for _, c := range []struct {
		schema string
		data   []byte
	}{{"plan.json", planJSON}, {"files.json", content(t, files, ManifestName)}} {
		if err := validate(t, schemaOf(t, c.schema), c.data); err != nil {
			t.Errorf("%s: %v", c.schema, err)
		}
	}
	report, err := json.Marshal(diag.JSONReport{Diagnostics: diag.JSON(springFindings(), nil)})
	if err != nil {
		t.Fatal(err)
	}
	if err := validate(t, schemaOf(t, "check.json"), report); err != nil {
		t.Error(err)
	}

	// The schema must refuse what the format forbids.
	for _, c := range []struct{ name, from, to string }{
		{"a day that does not exist", `"date": "2026-03-24"`, `"date": "2026-02-30"`},
		{"an hour that does not exist", `"start": "18:30"`, `"start": "24:30"`},
		{"an unknown key", `"minutes": 75`, `"minutes": 75, "more": 1`},
		{"a number as text", `"minutes": 75`, `"minutes": "75"`},
		{"half a watt", `"power_w": [117, 128]`, `"power_w": [117.5, 128]`},
		{"one end of a range", `"power_w": [117, 128]`, `"power_w": [117]`},
		{"three ends of a range", `"power_w": [117, 128]`, `"power_w": [117, 120, 128]`},
		{"an effort off the scale", `"rpe": [null, 11]`, `"rpe": [null, 21]`},
		{"an unknown kind of step", `"kind": "steady"`, `"kind": "stairs"`},
		{"an unknown severity", `"severity": "advice"`, `"severity": "note"`},
		{"a name for a UID", `5f4c9a52-1a5e-5a0e-8a44-3a1d5e0f7c11`, `jo@example.org`},
		{"a left-out key", `"ride": "steady",`, ``},
		{"a provisional week in words", `"provisional": false`, `"provisional": "no"`},
		{"a device without steps", `"most_steps": 50`, `"most_steps": 1`},
	} {
		bad := strings.Replace(string(planJSON), c.from, c.to, 1)
		if bad == string(planJSON) {
			t.Errorf("%s: %q is not in plan.json", c.name, c.from)
		}
		if validate(t, schemaOf(t, "plan.json"), []byte(bad)) == nil {
			t.Errorf("%s was accepted", c.name)
		}
	}
}

// plan.json stands alone, so it repeats the parts of check.json.
func TestSchemasAgree(t *testing.T) {
	defs := func(name string) map[string]any {
		var doc struct {
			Defs map[string]any `json:"$defs"`
		}
		data, err := schemas.FS.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(data, &doc); err != nil {
			t.Fatal(err)
		}
		return doc.Defs
	}
	planDefs, checkDefs := defs("plan.json"), defs("check.json")
	if len(checkDefs) == 0 {
		t.Error("check.json has no parts")
	}
	for name, def := range checkDefs {
		if diff := cmp.Diff(def, planDefs[name]); diff != "" {
			t.Errorf("$defs/%s differs:\n%s", name, diff)
		}
	}
}

// A block of which little is known: absent is null, never 0, and nothing panics.
func TestAbsentIsNull(t *testing.T) {
	p := &prescription.Prescription{
		Block: &plan.Block{PlanID: "x", Key: "bare", Athlete: &plan.Athlete{Key: "jo"}, Bands: []*plan.Band{{Key: "typed", From: 1}}},
		Weeks: []prescription.Week{{Week: &schedule.Week{Week: &plan.Week{Number: 1, Start: units.NewDate(2026, 3, 23), Kind: plan.Recovery}}}},
		Sessions: []prescription.Session{{
			Key: "bare/w01/easy-1", UID: steadySession(0).UID, Week: 1, Date: units.NewDate(2026, 3, 23), Session: "recovery_spin", Minutes: 30,
			Steps: []prescription.Step{{Name: "work", Kind: prescription.Open, Role: prescription.Work, Duration: 1800}},
		}},
	}
	var buf bytes.Buffer
	if err := JSON(&buf, p, nil, nil, "towpath"); err != nil {
		t.Fatal(err)
	}
	if err := validate(t, schemaOf(t, "plan.json"), buf.Bytes()); err != nil {
		t.Error(err)
	}
	for _, want := range []string{
		`"as_of": null`, `"start": null`, `"zone": null`, `"ride": null`, `"leads": null`, `"why": null`, `"power_w": null`,
		`"heart_rate_bpm": null`, `"rpe": null`, `"work_kj": null`, `"trimp": null`, `"session_rpe": null`, `"monotony": null`,
		`"threshold": null`, `"findings": []`, `"file": null`, `"line": null`, `"source": null`, `"mix": []`,
	} {
		if !strings.Contains(buf.String(), want) {
			t.Errorf("no %s in\n%s", want, buf.String())
		}
	}
	if _, err := Bundle(p, nil, Options{}); err != nil {
		t.Error(err)
	}
}

func TestLayOutKeepsMeaning(t *testing.T) {
	gen := rapid.Custom(func(t *rapid.T) any { return anyJSON(t, 3) })
	rapid.Check(t, func(t *rapid.T) {
		v := gen.Draw(t, "value")
		var buf bytes.Buffer
		if err := writeJSON(&buf, v); err != nil {
			t.Fatal(err)
		}
		var got any
		if err := json.Unmarshal(buf.Bytes(), &got); err != nil {
			t.Fatalf("%v in %s", err, buf.String())
		}
		if diff := cmp.Diff(v, got); diff != "" {
			t.Fatalf("laid out as %s:\n%s", buf.String(), diff)
		}
	})
}

func anyJSON(t *rapid.T, depth int) any {
	kind := rapid.IntRange(0, 5).Draw(t, "kind")
	if depth == 0 {
		kind %= 4
	}
	switch kind {
	case 0:
		return nil
	case 1:
		return rapid.Bool().Draw(t, "bool")
	case 2:
		return float64(rapid.IntRange(-9, 9).Draw(t, "number"))
	case 3:
		return rapid.String().Draw(t, "text")
	case 4:
		out := []any{}
		for range rapid.IntRange(0, 4).Draw(t, "items") {
			out = append(out, anyJSON(t, depth-1))
		}
		return out
	}
	out := map[string]any{}
	for range rapid.IntRange(0, 4).Draw(t, "members") {
		out[rapid.StringMatching(`[a-z\[\]{}",:\\]{1,5}`).Draw(t, "key")] = anyJSON(t, depth-1)
	}
	return out
}

func TestDecimals(t *testing.T) {
	for _, c := range []struct {
		v      float64
		places int
		want   string
	}{
		{12.649, 1, "12.6"},
		{140.06, 1, "140.1"},
		{118, 1, "118.0"},
		{-0.01, 1, "0.0"},
		{2380.5, 0, "2380"},
		{0.1 + 0.2, 2, "0.30"},
		{1.005, 2, "1.00"},
		{999999.99, 1, "1000000.0"},
	} {
		if got := string(decimals(c.v, c.places)); got != c.want {
			t.Errorf("decimals(%v, %d) = %s, want %s", c.v, c.places, got, c.want)
		}
	}
}

func BenchmarkBundle(b *testing.B) {
	p, findings := spring(), springFindings()
	week := p.Sessions
	for n := 1; n < 8; n++ { // eight weeks, as a block has
		for i := range week {
			s := week[i]
			s.Date += units.Date(7 * n)
			p.Sessions = append(p.Sessions, s)
		}
	}
	for b.Loop() {
		if _, err := Bundle(p, findings, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkCalendar(b *testing.B) {
	p := spring()
	for b.Loop() {
		if err := Calendar(io.Discard, p, nil); err != nil {
			b.Fatal(err)
		}
	}
}
