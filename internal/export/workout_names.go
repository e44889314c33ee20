package export

import (
	"fmt"
	"strings"

	"towpath/internal/prescription"
)

// workoutNames names the files of workouts, in their order: "2026-09-15-steady.fit". A second
// session of the same ride on one day becomes "2026-09-15-steady-2.fit", and what may be ridden
// instead of a session has its name and the place, "2026-09-15-steady-indoor.fit".
func workoutNames(workouts []workout) []string {
	names := make([]string, len(workouts))
	used := map[string]bool{}
	planned := ""
	for i, x := range workouts {
		base := planned + "-" + fileWord(x.session.Place)
		if !x.instead {
			base = workoutName(x.session)
		}
		name := base
		for n := 2; used[name]; n++ {
			name = fmt.Sprintf("%s-%d", base, n)
		}
		used[name] = true
		names[i] = name + ".fit"
		if !x.instead {
			planned = name
		}
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
	return s.Date.String() + "-" + fileWord(ride)
}

// fileWord keeps of a text what every file system takes.
func fileWord(s string) string {
	return cut(strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9', r == '_':
			return r
		case r >= 'A' && r <= 'Z':
			return r - 'A' + 'a' // some file systems do not tell cases apart
		}
		return '_'
	}, foldASCII(s)), maxFileName)
}

// maxFileName bounds the part of a file name that a plan chose.
const maxFileName = 60
