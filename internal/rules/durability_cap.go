package rules

import (
	"fmt"

	"towpath/internal/diag"
	"towpath/internal/physiology"
	"towpath/internal/plan"
	"towpath/internal/prescription"
	"towpath/internal/units"
)

var durabilityCap = Rule{
	Code:  "durability-cap",
	Title: "A long ride is allowed more watts than its threshold keeps",
	Why: "The first threshold sinks while one rides: what was easy in the first hour no longer is in the fourth. " +
		"Long rides have lower upper watts for that reason, and a band can raise them again with long_rides.",
	Mend: "Leave long_rides out of the band, or write less.",
	Default: fmt.Sprintf("Warning where the band's long_rides gives more than %s of the threshold in rides of %s and more, or more than %s after the first %s of rides over %s.",
		physiology.LongRideCap.Value, physiology.CapWhole.Value, physiology.VeryLongRideCap.Value, physiology.FreshTime.Value, physiology.VeryLongRide.Value),
	Evidence: "Our reading of two studies: the power at the first ventilatory threshold fell by 9.7 % in two hours at 90 % of it, in the other by 5 % only after 139 min (SD 78). " +
		"How far it falls differs much from rider to rider.",
	Sources:    []string{"stevenson2022", "gallo2024"},
	Population: "14 and 12 trained cyclists and triathletes",
	basis:      "Our reading of studies in trained cyclists",
	source:     "stevenson2022",
	check:      checkDurabilityCap,
}

func checkDurabilityCap(p *prescription.Prescription) (out []finding) {
	for s := range ways(p) {
		if s.Test || s.Band == nil || s.Band.LongRides == nil || s.Targets.Power == nil {
			continue
		}
		given, usual := typedCap(s.Band), physiology.LongRideCap.Value
		if s.Minutes > physiology.VeryLongRide.Value {
			usual = physiology.VeryLongRideCap.Value
		}
		if s.Minutes < physiology.CapWhole.Value || given <= usual+slack || !reaches(s, usual) {
			continue
		}
		out = append(out, finding{
			weeks: []int{s.Week}, severity: diag.Warning, subject: s.Band.LongRides.Range,
			summary: fmt.Sprintf("%s of %s on %s may be ridden at %s of the threshold", s.Name, s.Minutes, s.Date, given),
			brief:   fmt.Sprintf("%s, week %d: %s", onDay(s.Date), s.Week, s.Minutes),
			detail:  fmt.Sprintf("By default at most %s for a ride as long. Leave long_rides out of band %q, or write %s", usual, s.Band.Key, usual),
			fix:     write(s.Band.LongRides.Range, usual.String()),
		})
	}
	return out
}

// reaches reports whether a session asks for more than a share of the threshold: its steps may keep
// below what the band allows.
func reaches(s *prescription.Session, share units.Share) bool {
	return float64(s.Targets.Power.High) > float64(share)*float64(s.Band.Threshold)+slack
}

// typedCap is the share of the threshold that the coach gives long rides: never above the ceiling.
func typedCap(b *plan.Band) units.Share {
	given := b.LongRides.Value
	if b.Threshold > 0 {
		given = min(given, units.Share(b.Power.High/b.Threshold))
	}
	return given
}
