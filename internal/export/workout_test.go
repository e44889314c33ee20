package export

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/muktihari/fit/decoder"
	"github.com/muktihari/fit/profile/filedef"
	"github.com/muktihari/fit/profile/mesgdef"
	"github.com/muktihari/fit/profile/typedef"
	"pgregory.net/rapid"

	"towpath/internal/physiology"
	"towpath/internal/prescription"
	"towpath/internal/units"
)

// readWorkout decodes a workout file.
func readWorkout(t testing.TB, data []byte) *filedef.Workout {
	t.Helper()
	file, err := decoder.New(bytes.NewReader(data)).Decode()
	if err != nil {
		t.Fatal(err)
	}
	return filedef.NewWorkout(file.Messages...)
}

func workoutOf(t testing.TB, p *prescription.Prescription, s *prescription.Session) *filedef.Workout {
	t.Helper()
	var buf bytes.Buffer
	if err := (workout{session: s}).write(&buf, p.Block.Athlete); err != nil {
		t.Fatal(err)
	}
	return readWorkout(t, buf.Bytes())
}

// readStep is a step as a device reads it.
type readStep struct {
	Seconds   int
	Target    string
	Low, High int
	Second    string
	Low2      int
	High2     int
	Intensity string
	First     int // loops
	Rounds    int
}

func read(m *mesgdef.WorkoutStep) readStep {
	if m.DurationType == typedef.WktStepDurationRepeatUntilStepsCmplt {
		return readStep{First: int(m.DurationValue), Rounds: int(m.TargetValue), Target: "open"}
	}
	out := readStep{Seconds: int(m.DurationValue / 1000), Target: m.TargetType.String(), Intensity: m.Intensity.String()}
	if m.TargetType != typedef.WktStepTargetOpen {
		out.Low, out.High = int(m.CustomTargetValueLow), int(m.CustomTargetValueHigh)
	}
	if m.SecondaryTargetType != typedef.WktStepTargetInvalid {
		out.Second, out.Low2, out.High2 = m.SecondaryTargetType.String(), int(m.SecondaryCustomTargetValueLow), int(m.SecondaryCustomTargetValueHigh)
	}
	return out
}

// The values below are worked by hand: watts are offset by 1000, beats by 100 (FIT profile, types
// workout_power and workout_hr), resting heart rate is 52.
func TestWorkoutSteps(t *testing.T) {
	p := spring()
	for _, c := range []struct {
		session string
		want    []readStep
	}{
		{"spring/w01/steady-1", []readStep{
			{Seconds: 120, Target: "power", Low: 1074, High: 1080, Intensity: "warmup"},
			{Seconds: 120, Target: "power", Low: 1080, High: 1086, Intensity: "warmup"},
			{Seconds: 120, Target: "power", Low: 1086, High: 1092, Intensity: "warmup"},
			{Seconds: 120, Target: "power", Low: 1092, High: 1098, Intensity: "warmup"},
			{Seconds: 120, Target: "power", Low: 1098, High: 1104, Intensity: "warmup"},
			{Seconds: 3600, Target: "power", Low: 1117, High: 1128, Second: "heart_rate", Low2: 152, High2: 233, Intensity: "active"},
			{Seconds: 300, Target: "power", Low: 1074, High: 1105, Intensity: "cooldown"},
		}},
		{"spring/w01/upper-1", []readStep{
			{Seconds: 120, Target: "power", Low: 1074, High: 1079, Intensity: "warmup"},
			{Seconds: 120, Target: "power", Low: 1079, High: 1084, Intensity: "warmup"},
			{Seconds: 120, Target: "power", Low: 1084, High: 1089, Intensity: "warmup"},
			{Seconds: 120, Target: "power", Low: 1089, High: 1094, Intensity: "warmup"},
			{Seconds: 120, Target: "power", Low: 1094, High: 1099, Intensity: "warmup"},
			{Seconds: 120, Target: "power", Low: 1099, High: 1104, Intensity: "warmup"},
			{Seconds: 720, Target: "heart_rate", Low: 152, High: 233, Second: "power", Low2: 1129, High2: 1140, Intensity: "active"},
			{Seconds: 180, Target: "power", Low: 1074, High: 1105, Intensity: "recovery"},
			{Target: "open", First: 6, Rounds: 3},
			{Seconds: 180, Target: "power", Low: 1074, High: 1100, Intensity: "cooldown"},
		}},
		{"spring/w01/long-1", []readStep{{Seconds: 11400, Target: "open", Intensity: "active"}}},
	} {
		i := indexOf(p, c.session)
		var got []readStep
		for _, m := range workoutOf(t, p, &p.Sessions[i]).WorkoutSteps {
			got = append(got, read(m))
		}
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("%s:\n%s", c.session, diff)
		}
	}
}

func indexOf(p *prescription.Prescription, key string) int {
	for i := range p.Sessions {
		if p.Sessions[i].Key == key {
			return i
		}
	}
	return -1
}

func TestWorkoutHead(t *testing.T) {
	p := spring()
	file := workoutOf(t, p, &p.Sessions[2])
	if file.FileId.Type != typedef.FileWorkout || file.FileId.Manufacturer != typedef.ManufacturerDevelopment || file.FileId.SerialNumber == 0 {
		t.Errorf("file id %+v", file.FileId)
	}
	if want := time.Date(2026, 3, 26, 0, 0, 0, 0, time.UTC); !file.FileId.TimeCreated.Equal(want) {
		t.Errorf("created %s, want %s", file.FileId.TimeCreated, want)
	}
	if file.Workout.WktName != "60 min upper" || file.Workout.Sport != typedef.SportCycling || file.Workout.SubSport != typedef.SubSportIndoorCycling {
		t.Errorf("workout %q, %s, %s", file.Workout.WktName, file.Workout.Sport, file.Workout.SubSport)
	}
	if int(file.Workout.NumValidSteps) != len(file.WorkoutSteps) {
		t.Errorf("%d steps announced, %d written", file.Workout.NumValidSteps, len(file.WorkoutSteps))
	}
	notes := file.WorkoutSteps[6].Notes
	for _, want := range []string{"118-133 bpm", "effort at most 12", "129-140 W"} {
		if !strings.Contains(notes, want) {
			t.Errorf("no %q in the notes %q", want, notes)
		}
	}
	serials := map[uint32]bool{}
	for i := range p.Sessions {
		serials[workoutOf(t, p, &p.Sessions[i]).FileId.SerialNumber] = true
	}
	if len(serials) != len(p.Sessions) {
		t.Errorf("%d serial numbers for %d sessions", len(serials), len(p.Sessions))
	}
}

func TestHeartRateWithoutRestingRate(t *testing.T) {
	for _, c := range []struct {
		name    string
		bounds  prescription.Bounds
		resting int
		leads   string
		want    target
		ok      bool
	}{
		{"cap, known", prescription.Bounds{High: 130}, 50, "power", target{typedef.WktStepTargetHeartRate, 150, 230}, true},
		{"cap, unknown", prescription.Bounds{High: 130}, 0, "power", target{}, false},
		{"leads, unknown", prescription.Bounds{Low: ptr(110), High: 130}, 0, "heart_rate", target{typedef.WktStepTargetHeartRate, 210, 230}, true},
		{"leads with a cap alone", prescription.Bounds{High: 130}, 0, "heart_rate", target{typedef.WktStepTargetHeartRate, 101, 230}, true},
		{"resting above the cap", prescription.Bounds{High: 130}, 140, "power", target{typedef.WktStepTargetHeartRate, 230, 230}, true},
	} {
		got, ok := beatsTarget(&c.bounds, c.resting, c.leads)
		if got != c.want || ok != c.ok {
			t.Errorf("%s: got %v, %v, want %v, %v", c.name, got, ok, c.want, c.ok)
		}
	}
	if got := powerTarget(units.Range[int]{Low: 0, High: 0}); got.low != 1001 || got.high != 1001 {
		t.Errorf("0 W became %v: at 1000 devices read a percentage", got)
	}
}

// A test that is ridden all out says so in its notes alone; the watts of its warm-up reach the device.
func TestWattsAroundAnEffort(t *testing.T) {
	p := spring()
	s := testSession(units.NewDate(2026, 5, 4))
	s.Leads, s.Targets = "effort", prescription.Targets{}
	allOut := steady(180)
	allOut.Kind, allOut.AllOut, allOut.Targets = prescription.Open, true, prescription.Targets{}
	s.Steps = []prescription.Step{ramp(600, 100, 110), allOut}
	var got []string
	for _, m := range workoutOf(t, p, &s).WorkoutSteps {
		got = append(got, read(m).Target)
	}
	if diff := cmp.Diff([]string{"power", "power", "open"}, got); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	s.Targets.Effort = ptr(11) // where effort leads the work, watts would only distract
	if got := read(workoutOf(t, p, &s).WorkoutSteps[0]).Target; got != "open" {
		t.Errorf("where effort leads, the device asks for %s", got)
	}
}

func steady(seconds int) prescription.Step {
	return prescription.Step{Name: "work", Kind: prescription.Steady, Role: prescription.Work, Duration: units.Duration(seconds), Targets: prescription.Targets{Power: power(100, 120)}}
}

func repeat(times int, steps ...prescription.Step) prescription.Step {
	return prescription.Step{Kind: prescription.Rounds, Role: prescription.Work, Times: times, Steps: steps}
}

func ramp(seconds, low, high int) prescription.Step {
	return prescription.Step{Name: "warm_up", Kind: prescription.Ramp, Role: prescription.WarmUp, Duration: units.Duration(seconds), Targets: prescription.Targets{Power: power(low, high)}}
}

// ride lists the seconds and watts of steps as they are ridden, ramps as their whole range.
type ridden struct{ seconds, low, high int }

func rideSteps(steps []prescription.Step) (out []ridden) {
	for i := range steps {
		s := &steps[i]
		if s.Kind == prescription.Rounds {
			for range s.Times {
				out = append(out, rideSteps(s.Steps)...)
			}
			continue
		}
		out = append(out, ridden{int(s.Duration), s.Targets.Power.Low, s.Targets.Power.High})
	}
	return out
}

// rideFile rides a decoded file as a device does, going back for loops, and joins the stairs of
// one ramp by their notes and name.
func rideFile(t interface{ Fatalf(string, ...any) }, steps []*mesgdef.WorkoutStep) (seconds int, out []ridden) {
	left := map[int]int{}
	for i := 0; i < len(steps); {
		s := read(steps[i])
		if int(steps[i].MessageIndex) != i {
			t.Fatalf("step %d has the index %d", i, steps[i].MessageIndex)
		}
		if s.Rounds == 0 {
			seconds += s.Seconds
			out = append(out, ridden{s.Seconds, s.Low - wattsOffset, s.High - wattsOffset})
			i++
			continue
		}
		if s.First >= i || s.Rounds < 2 {
			t.Fatalf("step %d repeats from %d, %d times", i, s.First, s.Rounds)
		}
		for k := s.First; k < i; k++ {
			if read(steps[k]).Rounds > 0 {
				t.Fatalf("a loop within the loop of step %d", i)
			}
		}
		if _, ok := left[i]; !ok {
			left[i] = s.Rounds
		}
		if left[i]--; left[i] > 0 {
			i = s.First
			continue
		}
		delete(left, i)
		i++
	}
	return seconds, out
}

// Whatever the steps, the file rides the same seconds, in the same order, within the same watts.
func TestWorkoutRidesAsPrescribed(t *testing.T) {
	p := spring()
	rapid.Check(t, func(rt *rapid.T) {
		s := testSession(units.NewDate(2026, 5, 4))
		s.Steps = drawSteps(rt, 2)
		var buf bytes.Buffer
		if err := (workout{session: &s}).write(&buf, p.Block.Athlete); err != nil {
			if strings.Contains(err.Error(), "more than it holds") {
				return
			}
			rt.Fatal(err)
		}
		file := readWorkout(t, buf.Bytes())
		if len(file.WorkoutSteps) > physiology.HeadUnitSteps.Value {
			rt.Fatalf("%d steps", len(file.WorkoutSteps))
		}
		want := rideSteps(s.Steps)
		seconds, got := rideFile(rt, file.WorkoutSteps)
		total := 0
		for _, w := range want {
			total += w.seconds
		}
		if seconds != total {
			rt.Fatalf("rides %d s, prescribed %d s", seconds, total)
		}
		for _, w := range want { // the stairs of a ramp fill its seconds within its watts
			for used := 0; used < w.seconds; {
				g := got[0]
				if used += g.seconds; used > w.seconds || g.low < w.low || g.high > w.high || g.low > g.high {
					rt.Fatalf("%v is ridden as %v", w, g)
				}
				got = got[1:]
			}
		}
	})
}

func drawSteps(t *rapid.T, depth int) (out []prescription.Step) {
	for range rapid.IntRange(1, 4).Draw(t, "steps") {
		low := rapid.IntRange(1, 200).Draw(t, "low")
		high := low + rapid.IntRange(0, 80).Draw(t, "width")
		seconds := rapid.IntRange(10, 3600).Draw(t, "seconds")
		kinds := 2
		if depth > 0 {
			kinds = 3
		}
		switch rapid.IntRange(1, kinds).Draw(t, "kind") {
		case 1:
			s := steady(seconds)
			s.Targets.Power = power(low, high)
			out = append(out, s)
		case 2:
			s := ramp(seconds, low, high)
			s.Falling = rapid.Bool().Draw(t, "falling")
			out = append(out, s)
		case 3:
			out = append(out, repeat(rapid.IntRange(1, 6).Draw(t, "times"), drawSteps(t, depth-1)...))
		}
	}
	return out
}

func TestWorkoutDates(t *testing.T) {
	p := spring()
	for _, c := range []struct {
		date units.Date
		ok   bool
	}{{units.NewDate(1989, 1, 1), false}, {units.NewDate(1995, 1, 1), false}, {units.NewDate(2000, 1, 1), true}, {units.NewDate(2199, 1, 1), false}} {
		s := p.Sessions[0]
		s.Date = c.date
		if err := (workout{session: &s}).write(&bytes.Buffer{}, p.Block.Athlete); (err == nil) != c.ok {
			t.Errorf("%s: %v", c.date, err)
		}
	}
	s := p.Sessions[0]
	s.Steps = nil
	if err := (workout{session: &s}).write(&bytes.Buffer{}, p.Block.Athlete); err == nil {
		t.Error("a session without steps was accepted")
	}
}
