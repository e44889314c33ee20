package prescription

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"towpath/internal/diag"
	"towpath/internal/plan"
	"towpath/internal/units"
)

func inWatts(low, high int) Targets { return Targets{Power: &units.Range[int]{Low: low, High: high}} }

func work(seconds int) Step {
	return Step{Name: "work", Kind: Steady, Role: Work, Duration: units.Duration(seconds), Targets: inWatts(100, 120)}
}

func repeated(times int, steps ...Step) Step {
	return Step{Kind: Rounds, Role: Work, Times: times, Steps: steps}
}

func rising(seconds, low, high int) Step {
	return Step{Name: "warm_up", Kind: Ramp, Role: WarmUp, Duration: units.Duration(seconds), Targets: inWatts(low, high)}
}

// several are steps that all differ.
func several(n int) (out []Step) {
	for i := range n {
		out = append(out, work(60+i))
	}
	return out
}

func alternating(rounds int) (out []Step) {
	for range rounds {
		out = append(out, work(60), work(30))
	}
	return out
}

func TestDeviceSteps(t *testing.T) {
	for _, c := range []struct {
		name  string
		most  int // 0: as many as head units take
		steps []Step
		want  int // entries
		fits  bool
	}{
		{"one round is no loop", 0, []Step{repeated(1, work(60), work(30))}, 2, true},
		{"a loop", 0, []Step{repeated(9, work(60), work(30))}, 3, true},
		{"inner repeats are written out", 0, []Step{repeated(5, repeated(3, work(60)), work(30))}, 5, true},
		{"or stay loops where that is shorter", 0, []Step{repeated(2, repeated(10, work(60), work(30)))}, 6, true},
		{"three levels", 0, []Step{repeated(2, repeated(2, repeated(2, work(60))))}, 5, true},
		{"fifty", 0, several(50), 50, true},
		{"fifty-one", 0, several(51), 51, false},
		{"stairs give way", 0, append(several(47), rising(1200, 100, 200)), 50, true},
		{"a ramp in one step", 0, append(several(49), rising(1200, 100, 200)), 50, true},
		{"a mistyped count", 0, []Step{repeated(1e9, repeated(1e9, work(60), work(30)))}, 53, false},
		{"what fits stays as it is written", 0, alternating(3), 6, true},
		{"what comes several times becomes a loop", 5, alternating(3), 3, true},
		{"that keeps the stairs", 7, append([]Step{rising(480, 100, 200)}, alternating(3)...), 7, true},
		{"beside a loop", 7, append(append(alternating(3), repeated(4, work(20), work(40))), alternating(2)...), 9, false},
		{"before a loop that is longer", 6, append(alternating(3), repeated(4, work(20), work(40))), 6, true},
		{"the least that a ride can be", 2, []Step{rising(600, 100, 200), work(60)}, 2, true},
		{"one too many", 2, []Step{rising(600, 100, 200), work(60), work(30)}, 3, false},
		{"nothing", 2, nil, 0, true},
	} {
		list, need := DeviceSteps(c.steps, plan.Device{MostSteps: c.most})
		if need != c.want || (list != nil || need == 0) != c.fits {
			t.Errorf("%s: %d entries, %d needed; want %d", c.name, len(list), need, c.want)
		}
	}
}

// ridden lists what a list of a head unit asks for, as it is ridden.
func ridden(list []DeviceStep) (out []string) {
	at := make([]int, len(list))
	for i := range list {
		at[i] = len(out)
		if list[i].Rounds == 0 {
			out = append(out, asks(&list[i]))
			continue
		}
		round := out[at[list[i].First]:]
		for range list[i].Rounds - 1 {
			out = append(out, round...)
		}
	}
	return out
}

// Loops change nothing of what is ridden, are never nested, and never make a list longer.
func TestLoopsRideTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var steps []Step
		for range rapid.IntRange(1, 14).Draw(t, "steps") {
			s := work(rapid.IntRange(1, 2).Draw(t, "minutes") * 60)
			if rapid.IntRange(0, 5).Draw(t, "repeat") == 0 {
				s = repeated(rapid.IntRange(2, 3).Draw(t, "times"), s, work(60))
			}
			steps = append(steps, s)
		}
		before := sequence(nil, steps, 1)
		after := looped(before)
		if diff := cmp.Diff(ridden(before), ridden(after)); diff != "" {
			t.Fatalf("the ride changes (-before +after)\n%s", diff)
		}
		if len(after) > len(before) {
			t.Fatalf("%d entries became %d", len(before), len(after))
		}
		for i, d := range after {
			if d.Rounds == 0 {
				continue
			}
			for k := d.First; k < i; k++ {
				if after[k].Rounds > 0 {
					t.Fatalf("the loop %d holds the loop %d", i, k)
				}
			}
		}
	})
}

func TestDeviceFaults(t *testing.T) {
	at := diag.Range{Filename: "plan.hcl", Start: diag.Range{}.Start}
	at.Start.Line = 7
	sessions := []Session{
		{Name: "Steady", Session: "steady", Steps: several(3), Date: 20000},
		{Name: "Blocks", Session: "blocks", Steps: several(9), Date: 20001},
		{Name: "Long", Session: "long", Steps: several(2), Date: 20002, Instead: &Session{Name: "Long", Session: "long", Steps: several(8)}},
	}
	for _, c := range []struct {
		name   string
		device plan.Device
		want   []string // parts of the one fault; nil: none
	}{
		{"any device", plan.Device{}, nil},
		{"a device with room", plan.Device{MostSteps: 9, MostStepsRange: at}, nil},
		{"a small device", plan.Device{MostSteps: 4, MostStepsRange: at}, []string{"Blocks on 2024-10-04", "needs 9 steps", "takes 4", "most_steps = 9", "Another kind"}},
		{"what may be ridden instead", plan.Device{MostSteps: 8, MostStepsRange: at}, []string{"Blocks"}},
	} {
		got := deviceFaults(sessions, &plan.Athlete{Device: c.device})
		if len(got) != min(1, len(c.want)) {
			t.Errorf("%s: %v", c.name, got)
			continue
		}
		for _, part := range c.want {
			if text := got[0].Summary + " " + got[0].Detail; !strings.Contains(text, part) || got[0].Subject.Start.Line != 7 {
				t.Errorf("%s: no %q in %q", c.name, part, text)
			}
		}
	}
	if got := deviceFaults(sessions[2:], &plan.Athlete{Device: plan.Device{MostSteps: 5, MostStepsRange: at}}); len(got) != 1 {
		t.Errorf("steps of the other place: %v", got)
	}
}
