package export

import (
	"slices"
	"strconv"

	"towpath/internal/diag"
	"towpath/internal/prescription"
)

// origins writes where values come from. A ceiling stands behind nearly every session; what it was
// made from is told in full the first time, and is null afterwards. A session's own origin always
// tells its first level.
type origins struct {
	numbers map[originKey]int // of all that was met
	told    map[originKey]int // the number of the last that was told in full, without regard to from
}

// originKey is what makes two origins the same: their words, their line and all behind them.
type originKey struct {
	what, file, source string
	line               int
	from               string // the numbers of what they were made from
}

// ofSession joins why the session stands on its date with where its targets come from.
func (all origins) ofSession(s *prescription.Session) originDoc {
	o := s.Origin
	o.From = slices.Clone(o.From)
	for _, target := range []*diag.Origin{s.Targets.PowerOrigin, s.Targets.HeartRateOrigin, s.Targets.EffortOrigin} {
		if target != nil {
			o.From = append(o.From, *target)
		}
	}
	doc, _ := all.of(o, true)
	return doc
}

func (all origins) of(o diag.Origin, whole bool) (doc originDoc, number int) {
	key := originKey{what: o.What, file: o.Range.Filename, source: o.SourceKey, line: o.Range.Start.Line}
	doc = originDoc{What: o.What, Source: textOrNull(o.SourceKey), From: make([]originDoc, 0, len(o.From))}
	if o.Range.Filename != "" {
		doc.File, doc.Line = &key.file, &key.line
	}
	var numbers []byte
	for _, from := range o.From {
		part, number := all.of(from, false)
		doc.From = append(doc.From, part)
		numbers = append(strconv.AppendInt(numbers, int64(number), 10), ' ')
	}
	seen := key
	seen.from = ""
	key.from = string(numbers)
	number, met := all.numbers[key]
	if !met {
		number = len(all.numbers)
		all.numbers[key] = number
	}
	if last, ok := all.told[seen]; ok && last == number && len(o.From) > 0 && !whole {
		doc.From = nil
	}
	all.told[seen] = number
	return doc, number
}
