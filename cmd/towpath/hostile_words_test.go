package main

import (
	"fmt"
	"strings"

	"towpath/internal/units"
)

// hostileWords are plans that have far too much of one thing.
func hostileWords() []hostile {
	var out []hostile
	// A plan without a code compiles.
	plan := func(name, want string, pieces ...string) {
		out = append(out, hostile{name: name, want: want, fine: want == "", files: map[string]string{"plan.hcl": hostileHead + strings.Join(pieces, "\n")}})
	}
	many := func(format string, n int) string {
		var b strings.Builder
		for i := range n {
			fmt.Fprintf(&b, format+"\n", i)
		}
		return b.String()
	}
	dates := func(format string, n int) string {
		var b strings.Builder
		for i := range n {
			fmt.Fprintf(&b, format+"\n", units.NewDate(2020, 1, 1).Add(i))
		}
		return b.String()
	}
	const days = "days {\n tuesday = \"60 min\"\n thursday = \"75 min\"\n saturday = \"2 h\"\n}\n"
	rider := func(more string) string { return "athlete \"a\" {\n recent = [\"3 h\", \"3 h\"]\n" + more + "}\n" }
	block := func(more string) string {
		return "block \"b\" {\n start = \"2027-03-01\"\n weeks = 12\n volume { first = \"3 h\" }\n ride \"steady\" { session = session.steady }\n" + more + "}\n"
	}
	const band = "band \"x\" { power = \"104-138 W\" }\n"
	const shifts = "shifts = { early = \"75 min\", off = \"none\" }\n"

	roster := rider(shifts + "roster {\n from = \"2027-03-01\"\n file = \"r.csv\"\n}\n")
	csv := func(name, want, lines string) {
		out = append(out, hostile{name: name, want: want, fine: want == "", files: map[string]string{
			"plan.hcl": hostileHead + roster + band + block(""), "r.csv": "date,shift\n" + lines,
		}})
	}
	csv("a roster of 3,900 lines", "", dates("%s,early", 3_900))
	csv("a roster of 200,000 lines", "roster-file", dates("%s,early", 200_000))
	csv("a roster of one long line", "roster-file", "2027-03-01,"+strings.Repeat("x", 900_000))
	csv("a roster of wrong lines", "unknown-shift", strings.Repeat("2027-03-01,erly\n", 5_000))
	plan("a roster of a long list", "file-too-large", rider(shifts+"roster {\n from = \"2027-03-01\"\n days = ["+strings.Repeat("\"early\",", 100_000)+"]\n}\n"), band, block(""))
	plan("many rosters", "too-large", rider(days+shifts+dates("roster {\n from = \"%s\"\n days = [\"early\", \"off\"]\n}", 10_000)), band, block(""))
	plan("a roster from the beginning of time", "out-of-range", rider(shifts+"roster {\n from = \"0001-01-01\"\n until = \"9999-12-31\"\n days = [\"early\", \"off\"]\n}\n"), band, block(""))
	plan("many shifts", "too-large", rider(days+"shifts = {\n"+many("s%d = \"75 min\"", 10_000)+"}\n"), band, block(""))
	plan("a range of centuries", "out-of-range", rider(days+"on = { \"0001-01-01 to 9999-12-31\" = \"60 min\" }\n"), band, block(""))
	plan("ranges as long as dates go", "", rider(days+"on = { \"2000-01-01 to 2009-12-31\" = \"60 min\" }\n"), band, strings.Replace(block(""), "weeks = 12", "weeks = 4", 1))
	plan("many ranges of centuries", "out-of-range", rider(days+"on = {\n"+dates("\"%s to 9999-12-31\" = \"60 min\"", 1_900)+"}\n"), band, block(""))
	plan("many ranges of a squad", "out-of-range", "athlete \"a\" {\n recent = [\"3 h\"]\n on = {\n"+dates("\"%s\" = \"60 min\"", 1_900)+"}\n}\n",
		"squad \"s\" {\n athletes = [athlete.a]\n defaults {\n "+days+" on = {\n"+dates("\"%s to 9999-12-31\" = \"60 min\"", 1_900)+"}\n }\n}\n", band, block("squads = [squad.s]\n"))

	names := func(n int) string {
		list := make([]string, n)
		for i := range list {
			list[i] = fmt.Sprintf("athlete.a%d", i)
		}
		return "[" + strings.Join(list, ", ") + "]"
	}
	squad := func(n int, more string) string {
		return many("athlete \"a%d\" {}", n) + many("band \"b%d\" {\n athlete = athlete.a%[1]d\n power = \"104-138 W\"\n}", n) +
			"squad \"s\" {\n athletes = " + names(n) + "\n defaults {\n recent = [\"3 h\", \"3 h\"]\n " + days + " }\n" + more + "}\n"
	}
	const fixed = "fixed \"f%d\" {\n session = session.group_ride\n minutes = \"60 min\"\n days = [\"saturday\"]\n}"
	plan("a squad of 1,000", "too-many-weeks", squad(1_000, ""), block("squads = [squad.s]\n"))
	plan("a squad of 1,000 in hard weeks", "too-many-weeks", squad(1_000, ""), strings.Replace(block("squads = [squad.s]\n"+many("ride \"r%d\" {\n session = session.long_ride\n share = \"1 %%\"\n}", 30)), "weeks = 12", "weeks = 52", 1))
	plan("a squad of 200", "", squad(200, ""), block("squads = [squad.s]\n"))
	plan("1,000 squads of each other", "", squad(10, ""), many("squad \"t%d\" { athletes = "+names(10)+" }", 1_000), block("squads = [squad.s, "+strings.TrimSuffix(strings.ReplaceAll(many("squad.t%d, ", 1_000), "\n", ""), ", ")+"]\n"))
	plan("200 fixed rides a day for a year", "day-taken", rider("days {\n saturday = \"20 h\"\n}\n"+many(strings.NewReplacer("60 min", "5 min", "group_ride", "commute").Replace(fixed), 200)), band,
		strings.NewReplacer("weeks = 12", "weeks = 52", "3 h", "19 h").Replace(block("")))
	plan("1,000 fixed rides", "too-large", rider(days+many(fixed, 1_000)), band, block(""))
	plan("10,000 fixed rides", "too-large", rider(days+many(fixed, 10_000)), band, block(""))
	plan("1,000 fixed rides of a squad of 100", "too-large", squad(100, many(fixed, 1_000)), block("squads = [squad.s]\n"))
	plan("fixed rides of 1,000", "too-many-weeks", squad(1_000, many(strings.Replace(fixed, "\n days", "\n athletes = "+names(100)+"\n days", 1), 200)), block("squads = [squad.s]\n"))
	plan("5,000 for_athlete", "said-twice", rider(days), band, block(many("for_athlete {\n athletes = [athlete.a]\n from_week = 2\n note = \"%d\"\n}", 5_000)))
	plan("for_athlete of all of 1,000", "too-many-weeks", squad(1_000, ""), block("squads = [squad.s]\n"+many("for_athlete {\n athletes = "+names(1_000)+"\n note = \"%d\"\n}", 60)))
	plan("for_athlete in for_athlete", "unknown-block", rider(days), band, block(strings.Repeat("for_athlete {\n athletes = [athlete.a]\n", 60)+strings.Repeat("}\n", 60)))
	plan("thousands of allowances", "out-of-range", rider(days), "band \"x\" {\n power = \"104-138 W\"\n over = ["+strings.ReplaceAll(many("\"c%d: 3 min, 115 %%\", ", 1_900), "\n", "")+"]\n}\n", block(""))
	plan("a list too long of allowances", "too-large", rider(days), "band \"x\" {\n power = \"104-138 W\"\n over = ["+strings.ReplaceAll(many("\"c%d: 3 min, 115 %%\", ", 5_000), "\n", "")+"]\n}\n", block(""))
	plan("many journeys", "travels-overlap", rider("time_zone = \"Europe/Rome\"\n"+days+dates("travel {\n from = \"%s\"\n to = \"2027-12-31\"\n time_zone = \"Asia/Tokyo\"\n}", 10_000)), band, block(""))
	plan("much other sport", "too-large", rider(days+many("other \"o%d\" {\n days = [\"monday\"]\n demand = \"demanding\"\n}", 10_000)), band, block(""))
	plan("many events", "week-does-not-fit", rider(days), band, block(""), many("event \"e%d\" { date = \"2027-04-10\" }", 10_000))
	plan("a chain of raises", "bands-overlap", rider(days), band, "band \"r0\" {\n raises = band.x\n by = \"0.1 %\"\n from = \"2027-03-02\"\n}\n"+strings.TrimPrefix(chainOf("band \"r%d\" {\n raises = band.r%d\n by = \"0.1 %%\"\n from = \"2027-03-02\"\n}", 3_000), "\n"), block(""))
	plan("many bands", "bands-overlap", rider(days), many("band \"x%d\" { power = \"104-138 W\" }", 10_000), block(""))
	plan("many blocks", "too-many-weeks", rider(days), band, many("block \"c%d\" {\n start = \"2027-03-01\"\n weeks = 52\n volume { first = \"3 h\" }\n ride \"steady\" { session = session.steady }\n}", 1_000))
	plan("many test days", "too-large", rider(days), band, block(many("test_day \"t%d\" {\n protocol = protocol.standard_ride\n weeks = \"1-12\"\n day = \"tuesday\"\n}", 10_000)))
	plan("many rides", "too-large", rider(days), band, block(many("ride \"r%d\" { session = session.steady }", 10_000)))
	plan("many rides in long weeks", "too-many-rides", rider(strings.ReplaceAll(days, "60 min", "20 h")+"longest = \"10 h\"\n"), band, block(many("ride \"r%d\" {\n session = session.steady\n share = \"5 %%\"\n}", 20)))
	plan("many steps", "too-large", rider(days), band, block(""), "session \"s\" {\n"+many("step \"s%d\" { duration = \"1 s\" }", 10_000)+"}\n")
	plan("rounds in rounds", "session-too-short", rider(days), band, strings.Replace(block(""), "session.steady", "session.s", 1), "session \"s\" {\n repeat {\n times = 100\n repeat {\n times = 100\n step \"s\" {\n duration = \"1 s\"\n position = \"0-10 %\"\n}\n}\n}\n}\n")
	plan("a long note", "", rider(days), band, block("note = \""+strings.Repeat("x", 4_000)+"\"\n"))
	return out
}

// chainOf numbers each line and the one before it.
func chainOf(format string, n int) string {
	var b strings.Builder
	for i := 1; i <= n; i++ {
		fmt.Fprintf(&b, format+"\n", i, i-1)
	}
	return b.String()
}

// hostileFolders are plans of many files.
func hostileFolders() []hostile {
	small := goodPlan
	folder := map[string]string{"plan.hcl": small}
	for i := range 1000 {
		folder[fmt.Sprintf("f%d.hcl", i)] = fmt.Sprintf("meter \"m%d\" { kind = \"x\" }\n", i)
	}
	chain := map[string]string{"d0/plan.hcl": small}
	for i := range 1000 {
		chain[fmt.Sprintf("d%d/next.hcl", i)] = fmt.Sprintf("include = [\"../d%d\"]\n", i+1)
	}
	chain["d1000/end.hcl"] = "meter \"end\" { kind = \"x\" }\n"
	deep := strings.Repeat("d/", 400)
	return []hostile{
		{name: "1,000 files", files: folder, want: "plan-too-large"},
		{name: "1,000 includes", files: chain, at: "d0", want: "plan-too-large"},
		{name: "includes in a circle", files: map[string]string{"plan.hcl": small, "a.hcl": "include = [\"b\"]\n", "b/b.hcl": "include = [\"..\", \".\", \"../b\"]\n"}, fine: true},
		{name: "deep folders", files: map[string]string{deep + "plan.hcl": small}, at: deep, fine: true},
		{name: "an include out of the root", files: map[string]string{"plan.hcl": "include = [\"../../../../etc\"]\n" + small}},
		{name: "a link out of the root", files: map[string]string{"plan.hcl": small, "more.hcl": "-> /etc/passwd"}},
		{name: "an include through a link", files: map[string]string{"plan.hcl": "include = [\"out\"]\n" + small, "out": "-> /etc"}},
		{name: "data that is no file", files: map[string]string{"plan.hcl": small + "test \"t\" {\n  date = \"2027-02-13\"\n  protocol = protocol.lactate_step\n  data = \"/dev/zero\"\n}\n"}},
		{name: "data through a link", files: map[string]string{"plan.hcl": small + "test \"t\" {\n  date = \"2027-02-13\"\n  protocol = protocol.lactate_step\n  data = \"t.csv\"\n}\n", "t.csv": "-> /dev/zero"}},
	}
}
