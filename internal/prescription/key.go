package prescription

import (
	"fmt"

	"github.com/google/uuid"

	"towpath/internal/plan"
	"towpath/internal/schedule"
)

// namespace is the root of all identities: a random UUID, made once for this program.
var namespace = uuid.MustParse("6c0d4a52-8d5e-4c0b-9f1e-3f7a1c52b9e4")

// keyOf names a session by block, week, name and slot, never by its date, so that a session that
// moves stays the same session: "autumn/w03/long-1".
func keyOf(b *plan.Block, s *schedule.Session) string {
	return fmt.Sprintf("%s/w%02d/%s-%d", b.Key, s.Week, s.Name(), s.Slot)
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
