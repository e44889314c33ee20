package export

import (
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"io"
	"strings"

	"github.com/muktihari/fit/encoder"
	"github.com/muktihari/fit/profile/filedef"
	"github.com/muktihari/fit/profile/mesgdef"
	"github.com/muktihari/fit/profile/typedef"

	"towpath/internal/plan"
	"towpath/internal/prescription"
	"towpath/internal/units"
	"towpath/internal/words"
)

// Limits and offsets of the FIT protocol's workout messages.
const (
	maxName      = 15  // bytes that small displays show
	maxNote      = 254 // bytes of a text field, without its closing zero
	wattsOffset  = 1000
	beatsOffset  = 100
	milliseconds = 1000 // in a second: the unit of a step's duration

	// fitEpoch is the zero of the protocol's clock. Lower counts than firstFitTime mean time
	// since a device was switched on.
	fitEpoch     = 631065600 // 1989-12-31T00:00:00Z as Unix time
	firstFitTime = 0x10000000
	lastFitTime  = 0xFFFFFFFE
)

// workout is a session as a file for the rider's device.
type workout struct {
	session *prescription.Session
	// instead: the session at its day's other place, beside the one that is planned. It shares its
	// identity with that one, and must be told apart on the device.
	instead bool
}

// workoutsOf lists the workouts of sessions, in their order: each session, and after it the one that
// may be ridden instead.
func workoutsOf(sessions []prescription.Session) (out []workout) {
	for i := range sessions {
		s := &sessions[i]
		out = append(out, workout{session: s})
		if s.Instead != nil {
			out = append(out, workout{session: s.Instead, instead: true})
		}
	}
	return out
}

// write writes a workout as a structured file in the FIT protocol. Its serial number and time derive
// from the session, so the same session gives the same bytes. An error says why the session does not
// fit the format.
func (x workout) write(w io.Writer, a *plan.Athlete) error {
	s := x.session
	created := s.Date.UTC()
	if at := created.Unix() - fitEpoch; at < firstFitTime || at > lastFitTime {
		return fmt.Errorf("session %s: a workout file cannot hold the date %s", s.Key, s.Date)
	}
	list, need := prescription.DeviceSteps(s.Steps, a.Device)
	switch {
	case need == 0:
		return fmt.Errorf("session %s has no steps to put into a workout file", s.Key)
	case list == nil:
		return fmt.Errorf("session %s needs %d steps in a workout file, more than it holds", s.Key, need)
	}
	letters := lettersOf(a.Device)
	file := filedef.NewWorkout()
	file.FileId = *mesgdef.NewFileId(nil).
		SetType(typedef.FileWorkout).
		SetManufacturer(typedef.ManufacturerDevelopment).
		SetProduct(0).
		SetSerialNumber(serialNumber(x.identity())).
		SetTimeCreated(created)
	file.Workout = mesgdef.NewWorkout(nil).
		SetWktName(x.title(letters)).
		SetWktDescription(cut(letters(strings.Join([]string{s.Title + ".", s.Words().ProvisionalNote(), s.Why, s.Note}, " ")), maxNote)).
		SetSport(typedef.SportCycling).
		SetNumValidSteps(uint16(len(list)))
	if s.Place == plan.Indoor {
		file.Workout.SetSubSport(typedef.SubSportIndoorCycling)
	}
	for i := range list {
		d := &list[i]
		m := stepMessage(i, d, letters)
		if d.Rounds == 0 {
			setTargets(m, d, deviceLeads(s, a.Device), a)
			if i > 0 && d.Stair && d.Step == list[i-1].Step {
				m.SetNotes(file.WorkoutSteps[i-1].Notes) // the stairs of one ramp
			} else {
				m.SetNotes(cut(letters(notes(d, s.Why)), maxNote))
			}
		}
		file.WorkoutSteps = append(file.WorkoutSteps, m)
	}
	fit := file.ToFIT(nil)
	if err := encoder.New(w).Encode(&fit); err != nil {
		return fmt.Errorf("session %s as a workout file: %w", s.Key, err)
	}
	return nil
}

// lettersOf gives the function that writes text in the letters that a device shows. What could not
// be read is a question mark there: readers drop the sign that stands for it elsewhere.
func lettersOf(d plan.Device) func(string) string {
	if d.Plain {
		return foldASCII
	}
	return func(s string) string { return strings.ReplaceAll(cleanLine(s), "\uFFFD", "?") }
}

// identity tells the workouts of a plan apart.
func (x workout) identity() string {
	if x.instead {
		return x.session.UID + "/" + x.session.Place
	}
	return x.session.UID
}

// serialNumber tells the workouts of a device apart; 0 would mean that there is none.
func serialNumber(identity string) uint32 {
	sum := sha256.Sum256([]byte(identity))
	return max(1, binary.LittleEndian.Uint32(sum[:]))
}

// title puts what tells workouts apart at the head: "75 min steady", "indoor 60 min".
func (x workout) title(letters func(string) string) string {
	s := x.session
	head, _, _ := strings.Cut(s.Title, " · ")
	if x.instead {
		head = s.Place + " " + head
	}
	for _, name := range []string{head, s.Title, s.Name, s.Session} {
		if name = cutName(letters(name), maxName); name != "" {
			return name
		}
	}
	return s.Date.String()
}

func stepMessage(i int, d *prescription.DeviceStep, letters func(string) string) *mesgdef.WorkoutStep {
	m := mesgdef.NewWorkoutStep(nil).SetMessageIndex(typedef.MessageIndex(i))
	if d.Rounds > 0 {
		return m.
			SetDurationType(typedef.WktStepDurationRepeatUntilStepsCmplt).
			SetDurationValue(uint32(d.First)).
			SetTargetType(typedef.WktStepTargetOpen).
			SetTargetValue(uint32(d.Rounds))
	}
	m.SetWktStepName(cut(letters(stepName(d.Step)), maxName)).
		SetIntensity(intensity(d.Step))
	if d.Seconds > 0 {
		return m.SetDurationType(typedef.WktStepDurationTime).SetDurationValue(uint32(d.Seconds) * milliseconds)
	}
	return m.SetDurationType(typedef.WktStepDurationOpen) // ends with the lap button
}

// notes say the whole step in words, for what a device cannot show or may not, and for work why.
func notes(d *prescription.DeviceStep, why string) string {
	text := words.StepLine(d.Step.Words())
	if d.Step.Role == prescription.Work && cleanLine(why) != "" {
		text = strings.TrimRight(text, ". ") + ". " + why
	}
	return text
}

// stepName is the coach's word with spaces: "warm_up" becomes "warm up".
func stepName(s *prescription.Step) string {
	name := s.Name
	if name == "" {
		name = string(s.Role)
	}
	return cleanLine(strings.ReplaceAll(name, "_", " "))
}

// deviceLeads is the number that leads on the device: the one that the coach chose for it, else what
// leads the session. A test ridden all out has no target for its work, so effort leads it; the watts
// before and after still hold.
func deviceLeads(s *prescription.Session, d plan.Device) string {
	switch {
	case d.Leads != "":
		return d.Leads
	case s.Leads == "effort" && s.Targets.Effort == nil:
		return "power"
	}
	return s.Leads
}

// target is a range as the protocol wants it: a kind and two values with their offset.
type target struct {
	kind      typedef.WktStepTarget
	low, high uint32
}

// setTargets puts the number that leads first and the other second. Where effort leads, or
// nothing is known, the step is open and the notes say what to do. Custom ranges always: zones
// would be those of the device, not those of the test.
func setTargets(m *mesgdef.WorkoutStep, d *prescription.DeviceStep, leads string, a *plan.Athlete) {
	var list []target
	if leads != "effort" {
		if d.Power != nil {
			list = append(list, powerTarget(*d.Power))
		}
		if t, ok := beatsTarget(d.HeartRate, int(a.HeartRate.Resting), leads); ok && !a.Device.NoHeartRate {
			list = append(list, t)
		}
		if len(list) == 2 && leads == "heart_rate" {
			list[0], list[1] = list[1], list[0]
		}
	}
	if len(list) == 0 {
		m.SetTargetType(typedef.WktStepTargetOpen)
		return
	}
	m.SetTargetType(list[0].kind).SetTargetValue(0).
		SetCustomTargetValueLow(list[0].low).SetCustomTargetValueHigh(list[0].high)
	if len(list) > 1 {
		m.SetSecondaryTargetType(list[1].kind).SetSecondaryTargetValue(0).
			SetSecondaryCustomTargetValueLow(list[1].low).SetSecondaryCustomTargetValueHigh(list[1].high)
	}
}

// powerTarget never holds 0 W: at the offset itself devices read a percentage.
func powerTarget(r units.Range[int]) target {
	low := max(1, r.Low)
	return target{typedef.WktStepTargetPower, uint32(low + wattsOffset), uint32(max(low, r.High) + wattsOffset)}
}

// beatsTarget reaches down to resting heart rate, so that no device nags from below. Where that
// is not known, a range that leads keeps its own lower end, and a mere cap stays in the notes.
func beatsTarget(b *prescription.Bounds, resting int, leads string) (target, bool) {
	if b == nil {
		return target{}, false
	}
	low := resting
	if low <= 0 {
		if b.Low == nil && leads != "heart_rate" {
			return target{}, false
		}
		low = 1
		if b.Low != nil {
			low = *b.Low
		}
	}
	low = max(1, min(low, b.High))
	return target{typedef.WktStepTargetHeartRate, uint32(low + beatsOffset), uint32(max(low, b.High) + beatsOffset)}, true
}

func intensity(s *prescription.Step) typedef.Intensity {
	switch s.Role {
	case prescription.WarmUp:
		return typedef.IntensityWarmup
	case prescription.CoolDown:
		return typedef.IntensityCooldown
	case prescription.Ease:
		return typedef.IntensityRecovery
	}
	return typedef.IntensityActive
}
