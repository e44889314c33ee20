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

	"towpath/internal/prescription"
	"towpath/internal/units"
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

// Workout writes a session of p as a structured workout file in the FIT protocol. Its serial
// number and time derive from the session, so the same session gives the same bytes. An error
// says why the session does not fit the format.
func Workout(w io.Writer, p *prescription.Prescription, s *prescription.Session) error {
	created := s.Date.UTC()
	if at := created.Unix() - fitEpoch; at < firstFitTime || at > lastFitTime {
		return fmt.Errorf("session %s: a workout file cannot hold the date %s", s.Key, s.Date)
	}
	flat, err := flatten(s.Steps)
	if err != nil {
		return fmt.Errorf("session %s %w", s.Key, err)
	}
	if len(flat) == 0 {
		return fmt.Errorf("session %s has no steps to put into a workout file", s.Key)
	}
	file := filedef.NewWorkout()
	file.FileId = *mesgdef.NewFileId(nil).
		SetType(typedef.FileWorkout).
		SetManufacturer(typedef.ManufacturerDevelopment).
		SetProduct(0).
		SetSerialNumber(serialNumber(s.UID)).
		SetTimeCreated(created)
	file.Workout = mesgdef.NewWorkout(nil).
		SetWktName(workoutTitle(s)).
		SetWktDescription(cut(foldASCII(s.Title+". "+s.Why), maxNote)).
		SetSport(typedef.SportCycling).
		SetNumValidSteps(uint16(len(flat)))
	if s.Place == "indoor" {
		file.Workout.SetSubSport(typedef.SubSportIndoorCycling)
	}
	resting := int(p.Block.Athlete.HeartRate.Resting)
	for i := range flat {
		m := stepMessage(i, &flat[i], s, resting)
		if i > 0 && flat[i].stair && flat[i].step == flat[i-1].step {
			m.SetNotes(file.WorkoutSteps[i-1].Notes) // the stairs of one ramp
		} else if !flat[i].loop {
			m.SetNotes(flat[i].notes(s.Why))
		}
		file.WorkoutSteps = append(file.WorkoutSteps, m)
	}
	fit := file.ToFIT(nil)
	if err := encoder.New(w).Encode(&fit); err != nil {
		return fmt.Errorf("session %s as a workout file: %w", s.Key, err)
	}
	return nil
}

// serialNumber tells the workouts of a device apart; 0 would mean that there is none.
func serialNumber(uid string) uint32 {
	sum := sha256.Sum256([]byte(uid))
	return max(1, binary.LittleEndian.Uint32(sum[:]))
}

// workoutTitle puts what tells sessions apart at the head: "75 min steady".
func workoutTitle(s *prescription.Session) string {
	head, _, _ := strings.Cut(s.Title, " · ")
	for _, name := range []string{head, s.Title, s.Name, s.Session} {
		if name = cutName(foldASCII(name), maxName); name != "" {
			return name
		}
	}
	return s.Date.String()
}

func stepMessage(i int, f *flatStep, s *prescription.Session, resting int) *mesgdef.WorkoutStep {
	m := mesgdef.NewWorkoutStep(nil).SetMessageIndex(typedef.MessageIndex(i))
	if f.loop {
		return m.
			SetDurationType(typedef.WktStepDurationRepeatUntilStepsCmplt).
			SetDurationValue(uint32(f.first)).
			SetTargetType(typedef.WktStepTargetOpen).
			SetTargetValue(uint32(f.rounds))
	}
	m.SetWktStepName(cut(foldASCII(stepName(f.step)), maxName)).
		SetIntensity(intensity(f.step))
	if f.seconds > 0 {
		m.SetDurationType(typedef.WktStepDurationTime).SetDurationValue(uint32(f.seconds) * milliseconds)
	} else {
		m.SetDurationType(typedef.WktStepDurationOpen) // ends with the lap button
	}
	setTargets(m, f, deviceLeads(s), resting)
	return m
}

// deviceLeads is the number that leads on the device. A test ridden all out has no target for its
// work, so effort leads it; the watts before and after still hold.
func deviceLeads(s *prescription.Session) string {
	if s.Leads == "effort" && s.Targets.Effort == nil {
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
func setTargets(m *mesgdef.WorkoutStep, f *flatStep, leads string, resting int) {
	var list []target
	if leads != "effort" {
		if f.power != nil {
			list = append(list, powerTarget(*f.power))
		}
		if t, ok := beatsTarget(f.beats, resting, leads); ok {
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

// workoutNames names the workout files of sessions, in their order: "2026-09-15-steady.fit". A
// second session of the same ride on one day becomes "2026-09-15-steady-2.fit".
func workoutNames(sessions []prescription.Session) []string {
	names := make([]string, len(sessions))
	used := map[string]bool{}
	for i := range sessions {
		base := workoutName(&sessions[i])
		name := base
		for n := 2; used[name]; n++ {
			name = fmt.Sprintf("%s-%d", base, n)
		}
		used[name] = true
		names[i] = name + ".fit"
	}
	return names
}

// workoutName is the name of a session's workout file without its ending, unique where a day has
// one session of each ride.
func workoutName(s *prescription.Session) string {
	ride := s.Ride
	if ride == "" {
		ride = s.Session
	}
	ride = strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9', r == '_':
			return r
		case r >= 'A' && r <= 'Z':
			return r - 'A' + 'a' // some file systems do not tell cases apart
		}
		return '_'
	}, foldASCII(ride))
	return s.Date.String() + "-" + cut(ride, maxFileName)
}

// maxFileName bounds the part of a file name that a plan chose.
const maxFileName = 60
