package rules

import (
	"fmt"
	"math"
	"slices"

	"towpath/internal/diag"
	"towpath/internal/physiology"
	"towpath/internal/plan"
	"towpath/internal/prescription"
	"towpath/internal/units"
)

var startVolume = Rule{
	Code:  "start-volume",
	Title: "The first week holds more than the rider is used to",
	Why: "A block begins where the rider is, not where the rider once was. The measure is the mean of the last weeks: of the best three of four, " +
		"so that one lost week does not count, and of all four where the last was the smallest. A rider who returns after a long time off starts with little in short rides.",
	Mend: "Start lower and let the block grow, or write what was really ridden: recent = [\"4 h\", …], oldest week first.",
	Default: fmt.Sprintf("Warning above %s of the mean of the last weeks, and never below %s. Returning riders: %s in at most %d rides, none longer than the longest of the last month or %s. Advice where the weeks before are not known.",
		physiology.StartVolumeFactor.Value, physiology.StartVolumeLeast.Value, physiology.ReturningVolume.Value, physiology.ReturningRides.Value, physiology.ReturningRide.Value),
	Limit:    "start_volume",
	Evidence: "Common practice, no source.",
	basis:    "Common practice, no source",
	check:    checkStartVolume,
}

func checkStartVolume(p *prescription.Prescription) []finding {
	totals := weekTotals(p)
	i := firstWeek(totals)
	if i == len(totals) {
		return nil
	}
	b, first, total := p.Block, p.Schedule.Weeks[i].Week, totals[i]
	limit := b.Limits.StartVolume
	if b.Athlete.Background == "returning" && !limit.Written {
		return returning(p, first, total)
	}
	usual, of := usualStart(b.Athlete.Recent)
	if limit.Written {
		usual = float64(limit.Value)
	}
	if !above(total, usual) {
		return nil
	}
	most := floor5(usual)
	f := finding{weeks: []int{first.Number}, subject: first.Range, fix: smallerStart(b, first, most)}
	switch {
	case limit.Written:
		f.severity, f.own, f.related = level(limit, true), true, theLimit(limit)
		f.summary = fmt.Sprintf("Week %d starts with %s", first.Number, total)
		f.detail = fmt.Sprintf("%s. At most %s keeps it", capital(allowed(limit, "start_volume", "up to "+limit.Value.String())), most)
	case of == "":
		f.severity, f.fix = diag.Advice, nil
		f.summary = fmt.Sprintf("Week %d starts with %s, and the weeks before are not known", first.Number, total)
		f.detail = fmt.Sprintf("Above %s a start is compared with what was ridden before. Write it in the athlete, oldest week first: recent = [\"3 h\", \"3 h 30 min\", \"3 h\", \"3 h 15 min\"]", most)
		f.related = []diag.Related{{Message: "the athlete", Range: b.Athlete.Range}}
	default:
		f.severity = diag.Warning
		f.summary = fmt.Sprintf("Week %d starts with %s, above what was ridden before", first.Number, total)
		f.detail = fmt.Sprintf("%s; %s. At most %s keeps it", capital(of), allowed(limit, "start_volume", usualText(usual)), most)
		f.related = []diag.Related{{Message: "the weeks before", Range: b.Athlete.RecentRange}}
	}
	return []finding{f}
}

// usualText says how a usual start was reckoned.
func usualText(usual float64) string {
	if usual <= float64(physiology.StartVolumeLeast.Value) {
		return fmt.Sprintf("up to %s for anybody", physiology.StartVolumeLeast.Value)
	}
	return fmt.Sprintf("up to %s of that", physiology.StartVolumeFactor.Value)
}

// usualStart is how much a first week may hold after these weeks, and the measure in words.
func usualStart(recent []units.Minutes) (usual float64, of string) {
	least := float64(physiology.StartVolumeLeast.Value)
	weeks := slices.Clone(recent[max(0, len(recent)-physiology.RecentWeeks.Value):])
	if len(weeks) == 0 {
		return least, ""
	}
	of = fmt.Sprintf("the mean of the last %d weeks", len(weeks))
	if last := weeks[len(weeks)-1]; len(weeks) == physiology.RecentWeeks.Value {
		if slices.Sort(weeks); weeks[0] < last {
			weeks, of = weeks[1:], fmt.Sprintf("the mean of the best %d of the last %d weeks", len(weeks)-1, len(weeks))
		}
	}
	var sum units.Minutes
	for _, m := range weeks {
		sum += m
	}
	mean := float64(sum) / float64(len(weeks))
	return max(float64(physiology.StartVolumeFactor.Value)*mean, least), fmt.Sprintf("%s is %s", of, units.Minutes(math.Round(mean)))
}

// returning judges the first week of a rider who comes back: its hours, its rides, its longest.
func returning(p *prescription.Prescription, w *plan.Week, total units.Minutes) (out []finding) {
	add := func(at diag.Range, summary, detail string) {
		out = append(out, finding{
			weeks: []int{w.Number}, severity: diag.Warning, subject: at, summary: summary,
			detail: detail + " where background is \"returning\" (limits.start_volume sets another limit)",
		})
	}
	most := physiology.ReturningVolume.Value
	if total > most {
		add(w.Range, fmt.Sprintf("Week %d starts a returning rider with %s", w.Number, total), fmt.Sprintf("By default at most %s", most))
		out[0].fix = smallerStart(p.Block, w, most)
	}
	sessions, longest := 0, max(p.Block.Athlete.Longest, physiology.ReturningRide.Value)
	for _, r := range rides(p) {
		if r.Week != w.Number {
			continue
		}
		sessions++
		if r.Minutes > longest && !r.isTest() {
			add(r.at, fmt.Sprintf("%s is %s for a returning rider", r, r.Minutes), fmt.Sprintf("By default at most %s in the first week", longest))
		}
	}
	if n := physiology.ReturningRides.Value; sessions > n {
		add(w.Range, fmt.Sprintf("Week %d starts a returning rider with %d rides", w.Number, sessions), fmt.Sprintf("By default at most %d", n))
	}
	return out
}

// smallerStart mends the line that made the first week.
func smallerStart(b *plan.Block, w *plan.Week, most units.Minutes) *diag.Fix {
	if w.Range == b.VolumeRange || w.Range == b.Range {
		return nil
	}
	return write(w.Range, most.String())
}
