package prescription

import (
	"fmt"

	"github.com/google/uuid"

	"towpath/internal/plan"
	"towpath/internal/schedule"
	"towpath/internal/units"
)

// namespace is the root of all identities: a random UUID, made once for this program.
var namespace = uuid.MustParse("6c0d4a52-8d5e-4c0b-9f1e-3f7a1c52b9e4")

// keyOf names a session by block, week, ride and slot, never by its date, so that a session that
// moves stays the same session: "autumn/w03/long-1". Of a fixed ride the weekday is its name, so that
// one which is left out does not make the others of the week take its place: "autumn/w03/club_wed-1".
// Where a test and a ride share a name, the later one takes the next free slot; taken holds the keys
// that are in use.
func keyOf(b *plan.Block, s *schedule.Session, taken map[string]bool) string {
	name, slot := "", max(s.Slot, 1)
	switch {
	case s.Given != nil && s.Given.Fixed != "":
		name, slot = s.Given.Fixed+"_"+units.WeekdayKey(s.Date.Weekday())[:3], 1
	case s.Given != nil && s.Given.Test != nil:
		name = s.Given.Test.Key
	case s.Ride != nil:
		name = s.Ride.Key
	case s.Session != nil:
		name = s.Session.Key
	}
	for ; ; slot++ {
		key := fmt.Sprintf("%s/w%02d/%s-%d", b.Key, s.Week, name, slot)
		if !taken[key] {
			taken[key] = true
			return key
		}
	}
}

// EventUID is an event's UUID in the calendar of a block's athlete, made as those of sessions are,
// whose keys begin with a block and a week.
func EventUID(b *plan.Block, e *plan.Event) string { return uidOf(b, "event/"+e.Key) }

// uidOf is the session's UUID, version 5, of the plan's id, the athlete and the key.
func uidOf(b *plan.Block, key string) string {
	athlete := ""
	if b.Athlete != nil {
		athlete = b.Athlete.Key
	}
	ofPlan := uuid.NewSHA1(namespace, []byte(b.PlanID))
	return uuid.NewSHA1(ofPlan, []byte(athlete+"/"+key)).String()
}
