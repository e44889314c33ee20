package spec

import (
	"fmt"
	"slices"

	"towpath/internal/units"
)

func (d *decoder) test(n *node) *Test {
	t := &Test{
		Athlete:     get[Ref](n, "athlete"),
		Date:        get[units.Date](n, "date"),
		Protocol:    get[Ref](n, "protocol"),
		Meter:       get[Ref](n, "meter"),
		Place:       get[string](n, "place"),
		Stage:       get[units.Duration](n, "stage"),
		Site:        get[string](n, "site"),
		Analyser:    get[string](n, "analyser"),
		SampleDelay: get[units.Duration](n, "sample_delay"),
		Data:        get[string](n, "data"),
		WarmUp:      get[units.Duration](n, "warm_up"),
		Ramp:        get[units.RampRate](n, "ramp"),
		RampStep:    get[units.Power](n, "step"),
	}
	for _, it := range get[[]item](n, "stages").V {
		if row, ok := it.v.(*node); ok {
			t.Stages = append(t.Stages, stage(row))
			n.Broken = n.Broken || row.Broken
		}
	}
	if c := n.child("read_by_lab"); c != nil {
		t.ReadByLab = d.readByLab(c)
		n.Broken = n.Broken || c.Broken
	}
	d.oneAthlete(n)
	d.goesWith(n, "step", "ramp")
	d.exclusive(n, "The stages stand in a file or in the plan.", "data", "stages")
	t.DataText, t.DataName = d.readData(n, t.Data)
	t.Label = n.Label
	return t
}

func (d *decoder) readByLab(n *node) *LabReading {
	l := &LabReading{
		Range:            n.Header,
		FirstThreshold:   get[units.Power](n, "first_threshold"),
		HeartRate:        get[units.HeartRate](n, "heart_rate"),
		Method:           get[string](n, "method"),
		SecondThreshold:  get[units.Power](n, "second_threshold"),
		SecondHeartRate:  get[units.HeartRate](n, "second_heart_rate"),
		MaximumHeartRate: get[units.HeartRate](n, "maximum_heart_rate"),
		PeakPower:        get[units.Power](n, "peak_power"),
	}
	d.needsOne(n, "read_by_lab holds no reading", `Write what the laboratory read, such as first_threshold = "134 W".`,
		"first_threshold", "heart_rate", "second_threshold", "second_heart_rate", "maximum_heart_rate", "peak_power")
	return l
}

// oneAthlete wants the athlete named where the plan has several.
func (d *decoder) oneAthlete(n *node) {
	if all := d.keys("athlete"); !n.wrote("athlete") && len(all) > 1 {
		d.refuse(n, codeMissingValue, n.Header, fmt.Sprintf("%s does not say whose it is", n.title()), fmt.Sprintf("The plan has %s. Write athlete = athlete.%s, or another.", some(all), all[0]))
	}
}

func stage(n *node) Stage {
	return Stage{
		Range:     n.Header,
		Power:     get[units.Power](n, "power"),
		Duration:  get[units.Duration](n, "duration"),
		HeartRate: get[units.HeartRate](n, "heart_rate"),
		Lactate:   get[units.Lactate](n, "lactate"),
		Effort:    get[units.Effort](n, "rpe"),
	}
}

func (d *decoder) band(n *node) *Band {
	b := &Band{
		Athlete:   get[Ref](n, "athlete"),
		From:      get[units.Date](n, "from"),
		Tests:     many[Ref](n, "tests"),
		Method:    get[string](n, "method"),
		Caution:   get[string](n, "caution"),
		Ceiling:   get[units.Share](n, "ceiling"),
		Floor:     get[units.Share](n, "floor"),
		Threshold: get[units.Power](n, "threshold"),
		Power:     get[units.Range[units.Power]](n, "power"),
		HeartRate: get[units.Range[units.HeartRate]](n, "heart_rate"),
		Effort:    get[units.Range[units.Effort]](n, "rpe"),
		Leads:     get[string](n, "leads"),
		Raises:    get[Ref](n, "raises"),
		By:        get[units.Share](n, "by"),
		Evidence:  get[string](n, "evidence"),
		Place:     get[string](n, "place"),
		Over:      many[Allowance](n, "over"),
		LongRides: get[units.Share](n, "long_rides"),
	}
	if c := n.child("heart_rate_line"); c != nil {
		b.Line = &HeartRateLine{Range: c.Header, UpTo: get[units.Power](c, "up_to")}
	}
	d.oneAthlete(n)
	d.checkBand(n, b)
	d.shareBounds(n, "ceiling")
	d.shareBounds(n, "floor")
	d.shareBounds(n, "long_rides")
	b.Label = n.Label
	return b
}

// checkBand sees to it that a band is made in one way: derived from tests, typed, or raised.
func (d *decoder) checkBand(n *node, b *Band) {
	const ways = "A band is derived (tests), typed (power, threshold, heart_rate or rpe), or raised from another (raises and by)."
	typed := "power"
	if !n.wrote(typed) {
		typed = "threshold"
	}
	d.exclusive(n, ways, "raises", "tests", typed)
	d.needsOne(n, n.title()+" has nothing to be made from", ways, "tests", "raises", "power", "threshold", "heart_rate", "rpe")
	d.notEmpty(n, "tests", len(b.Tests), "tests names no test", ways)
	d.goesWith(n, "by", "raises")
	d.goesWith(n, "raises", "by")
	if !n.wrote("place") { // at another place it holds from the same day as the one that it raises
		d.goesWith(n, "raises", "from")
	}
	d.goesWith(n, "method", "tests")
	for i, a := range b.Over {
		if first := slices.IndexFunc(b.Over[:i], func(e Value[Allowance]) bool { return e.V.Name == a.V.Name }); first >= 0 {
			d.refuse(n, codeDoubleName, a.Range, fmt.Sprintf("over has %s twice", a.V.Name), "Give one of the two another name.", diagRelated("the first one", b.Over[first].Range))
		}
	}
	if b.Raises.Set && b.Raises.V.Key == n.Key {
		d.refuse(n, codeUnknownRef, b.Raises.Range, fmt.Sprintf("band %s raises itself", quoted(n.Key)), "Name the band that it is raised from.")
	}
}

// goesWith reports a name that needs another one.
func (d *decoder) goesWith(n *node, name, needs string) {
	if !n.wrote(name) || n.wrote(needs) {
		return
	}
	other := n.block.name(needs)
	d.refuse(n, codeOneOf, n.written[name], fmt.Sprintf("%s is written without %s", name, needs), fmt.Sprintf("Write, for example, %s = %s.", needs, other.Example))
}
