package export

import (
	"bytes"
	"encoding/json"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/muktihari/fit/decoder"
	"github.com/muktihari/fit/profile/filedef"
	"github.com/muktihari/fit/profile/mesgdef"
	"pgregory.net/rapid"

	"towpath/internal/prescription"
	"towpath/internal/units"
)

// asked is what one step asks of the rider, as it can be read in each of the files; 0 where nothing
// is asked.
type asked struct {
	seconds, lowWatts, highWatts, lowBeats, highBeats, effort int
}

// What a rider reads in the calendar, what the device is told and what plan.json says are the same
// steps, for the same time, with the same numbers.
func TestFilesAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := spring()
		p.Block.Athlete.HeartRate.Resting = units.HeartRate(rapid.SampledFrom([]int{0, 52}).Draw(t, "resting"))
		p.Sessions = p.Sessions[:rapid.IntRange(1, len(p.Sessions)).Draw(t, "sessions")]
		for i := range p.Sessions {
			p.Sessions[i].Leads = rapid.SampledFrom([]string{"power", "heart_rate", "effort"}).Draw(t, "leads")
			p.Sessions[i].Targets.Effort = ptr(11)
			p.Sessions[i].Steps = drawAskedSteps(t, 1)
		}
		files, err := Bundle(p, nil, Options{Generator: "towpath"})
		if err != nil {
			t.Fatal(err)
		}
		var doc struct{ Sessions []struct{ Steps []jsonStep } }
		byName := map[string][]byte{}
		for _, f := range files {
			byName[f.Name] = f.Bytes
		}
		if err := json.Unmarshal(byName[PlanName], &doc); err != nil {
			t.Fatal(err)
		}
		cal, err := readCalendar(byName[CalendarName])
		if err != nil {
			t.Fatal(err)
		}
		names := workoutNames(workoutsOf(p.Sessions))
		for i := range p.Sessions {
			s := &p.Sessions[i]
			inJSON := askedInJSON(doc.Sessions[i].Steps)
			text, err := unescape(cal.components("VEVENT")[i].value("DESCRIPTION"))
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(inJSON, askedInText(t, text), cmp.AllowUnexported(asked{})); diff != "" {
				t.Fatalf("plan.json and the calendar differ (-json +calendar)\n%s\n%s", diff, text)
			}
			checkDevice(t, byName[workoutsDir+names[i]], s.Leads, int(p.Block.Athlete.HeartRate.Resting), inJSON)
		}
	})
}

// drawAskedSteps draws steps with any of the three targets or none.
func drawAskedSteps(t *rapid.T, depth int) (out []prescription.Step) {
	for range rapid.IntRange(1, 3).Draw(t, "steps") {
		if depth > 0 && rapid.IntRange(0, 3).Draw(t, "repeat") == 0 {
			out = append(out, repeat(rapid.IntRange(2, 5).Draw(t, "times"), drawAskedSteps(t, 0)...))
			continue
		}
		s := steady(rapid.IntRange(1, 400).Draw(t, "seconds/15") * 15)
		if rapid.Bool().Draw(t, "ramp") {
			s.Kind, s.Falling = prescription.Ramp, rapid.Bool().Draw(t, "falling")
		}
		s.Targets = prescription.Targets{}
		if rapid.Bool().Draw(t, "power") {
			low := rapid.IntRange(40, 300).Draw(t, "watts")
			s.Targets.Power = power(low, low+rapid.IntRange(0, 60).Draw(t, "width"))
		}
		if rapid.Bool().Draw(t, "heart rate") {
			b := atMost(rapid.IntRange(90, 180).Draw(t, "beats"))
			if rapid.Bool().Draw(t, "lower end") {
				b.Low = ptr(b.High - rapid.IntRange(1, 30).Draw(t, "width"))
			}
			s.Targets.HeartRate = b
		}
		if rapid.Bool().Draw(t, "effort") {
			s.Targets.Effort = ptr(rapid.IntRange(7, 15).Draw(t, "rpe"))
		}
		out = append(out, s)
	}
	return out
}

// jsonStep is a step as a reader of plan.json meets it.
type jsonStep struct {
	Times     int `json:"times"`
	Steps     []jsonStep
	Duration  int     `json:"duration_s"`
	Power     *[2]int `json:"power_w"`
	HeartRate *[2]int `json:"heart_rate_bpm"` // null at its lower end is 0 here
	RPE       *[2]int `json:"rpe"`
}

func askedInJSON(steps []jsonStep) (out []asked) {
	for _, s := range steps {
		for range s.Times {
			out = append(out, askedInJSON(s.Steps)...)
		}
		if s.Times > 0 {
			continue
		}
		a := asked{seconds: s.Duration}
		if s.Power != nil {
			a.lowWatts, a.highWatts = s.Power[0], s.Power[1]
		}
		if s.HeartRate != nil {
			a.lowBeats, a.highBeats = s.HeartRate[0], s.HeartRate[1]
		}
		if s.RPE != nil {
			a.effort = s.RPE[1]
		}
		out = append(out, a)
	}
	return out
}

var (
	timesLine  = regexp.MustCompile(`^(\d+) times:$`)
	stepTime   = regexp.MustCompile(`^(?:(\d+) h ?)?(?:(\d+) min ?)?(?:(\d+) s)?`)
	wattsText  = regexp.MustCompile(`(\d+)(?:(?:-| to )(\d+))? W\b`)
	beatsText  = regexp.MustCompile(`(?:(\d+)-)?(\d+) bpm\b`)
	effortText = regexp.MustCompile(`effort (?:at most )?(\d+)`)
)

// askedInText reads the steps of a description: the first paragraph that begins with a number, a
// line for each step.
func askedInText(t *rapid.T, text string) (out []asked) {
	paragraphs := strings.Split(text, "\n\n")
	at := slices.IndexFunc(paragraphs, func(p string) bool { return p[0] >= '1' && p[0] <= '9' })
	if at < 0 {
		t.Fatalf("no steps in %q", text)
	}
	times, round := 0, []asked(nil)
	flush := func() {
		for range times {
			out = append(out, round...)
		}
		times, round = 0, nil
	}
	for line := range strings.SplitSeq(paragraphs[at], "\n") {
		if inner, ok := strings.CutPrefix(line, "- "); ok {
			round = append(round, askedInLine(inner))
			continue
		}
		flush()
		if m := timesLine.FindStringSubmatch(line); m != nil {
			times = number(m[1])
			continue
		}
		out = append(out, askedInLine(line))
	}
	flush()
	return out
}

func askedInLine(line string) (a asked) {
	m := stepTime.FindStringSubmatch(line)
	a.seconds = 3600*number(m[1]) + 60*number(m[2]) + number(m[3])
	if m := wattsText.FindStringSubmatch(line); m != nil {
		a.lowWatts, a.highWatts = number(m[1]), number(m[2])
		if m[2] == "" {
			a.highWatts = a.lowWatts
		}
		if a.lowWatts > a.highWatts { // a ramp that falls
			a.lowWatts, a.highWatts = a.highWatts, a.lowWatts
		}
	}
	if m := beatsText.FindStringSubmatch(line); m != nil {
		a.lowBeats, a.highBeats = number(m[1]), number(m[2])
	}
	if m := effortText.FindStringSubmatch(line); m != nil {
		a.effort = number(m[1])
	}
	return a
}

func number(s string) int {
	n, err := strconv.Atoi(s)
	if err != nil {
		return 0
	}
	return n
}

// checkDevice rides a workout file. The notes of each step say all that is asked of it, and the
// targets are the same numbers; where effort leads, and for a cap without a lower end known, the notes are all.
func checkDevice(t *rapid.T, data []byte, leads string, resting int, want []asked) {
	decoded, err := decoder.New(bytes.NewReader(data)).Decode()
	if err != nil {
		t.Fatal(err)
	}
	steps := asRidden(t, filedef.NewWorkout(decoded.Messages...).WorkoutSteps)
	for i, w := range want {
		power, beats := asked{}, asked{}
		for used := 0; used < w.seconds; steps = steps[1:] {
			if len(steps) == 0 {
				t.Fatalf("the workout file ends before step %d", i)
			}
			r := read(steps[0])
			used += r.Seconds
			if used > w.seconds {
				t.Fatalf("step %d lasts %d s, the device says %d s or more", i, w.seconds, used)
			}
			if diff := cmp.Diff(w, askedInLine(steps[0].Notes), cmp.AllowUnexported(asked{})); diff != "" {
				t.Fatalf("plan.json and the notes differ (-json +notes)\n%s", diff)
			}
			for _, target := range []struct {
				kind      string
				low, high int
			}{{r.Target, r.Low, r.High}, {r.Second, r.Low2, r.High2}} {
				switch target.kind {
				case "power":
					power.lowWatts = lower(power.lowWatts, target.low-wattsOffset)
					power.highWatts = max(power.highWatts, target.high-wattsOffset)
				case "heart_rate":
					beats.lowBeats, beats.highBeats = target.low-beatsOffset, target.high-beatsOffset
				}
			}
		}
		wantPower, wantBeats := asked{lowWatts: w.lowWatts, highWatts: w.highWatts}, w.highBeats
		if leads == "effort" {
			wantPower, wantBeats = asked{}, 0
		}
		if resting == 0 && w.lowBeats == 0 && leads != "heart_rate" {
			wantBeats = 0
		}
		if power != wantPower || beats.highBeats != wantBeats {
			t.Fatalf("step %d asks for %+v, the device for %+v and %+v", i, w, power, beats)
		}
	}
	if len(steps) > 0 {
		t.Fatalf("the workout file has %d steps too many", len(steps))
	}
}

// asRidden lists the steps of a workout file as they are ridden.
func asRidden(t *rapid.T, steps []*mesgdef.WorkoutStep) (out []*mesgdef.WorkoutStep) {
	at := make([]int, len(steps)) // where the step first stands in out
	for i, s := range steps {
		at[i] = len(out)
		r := read(s)
		if r.Rounds == 0 {
			out = append(out, s)
			continue
		}
		if r.First >= i || r.Rounds < 2 {
			t.Fatalf("step %d repeats from %d, %d times", i, r.First, r.Rounds)
		}
		round := slices.Clone(out[at[r.First]:])
		for range r.Rounds - 1 {
			out = append(out, round...)
		}
	}
	return out
}

// lower is the lower of two numbers of which the first may be missing.
func lower(a, b int) int {
	if a == 0 {
		return b
	}
	return min(a, b)
}
