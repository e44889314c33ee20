// Package zone finds time zones by their IANA name in data that is part of the program: the same
// name gives the same clock on every machine. A name goes in, a time.Location or an error with
// the nearest name comes out. It knows nothing of plans.
package zone

import (
	"archive/zip"
	"bytes"
	_ "embed"
	"fmt"
	"io"
	"slices"
	"strings"
	"sync"
	"time"
)

// data is the compiled IANA time zone database (public domain) as the Go distribution ships it.
//
//go:embed zoneinfo.zip
var data []byte

//go:embed aliases.txt
var aliasText string

// Error says that a name is no time zone. Nearest is the name that was probably meant, "" where
// none is near.
type Error struct {
	Name    string
	Nearest string
}

func (e *Error) Error() string {
	if e.Nearest == "" {
		return fmt.Sprintf("no time zone is called %q; expected an IANA name such as \"Europe/Lisbon\"", e.Name)
	}
	return fmt.Sprintf("no time zone is called %q; the nearest name is %q", e.Name, e.Nearest)
}

// index maps names to their entries in the archive. Reading the archive's directory costs more
// than reading a zone, and never changes.
var index = sync.OnceValues(func() (map[string]*zip.File, error) {
	archive, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, fmt.Errorf("time zone data: %w", err)
	}
	files := make(map[string]*zip.File, len(archive.File))
	for _, f := range archive.File {
		if !strings.HasSuffix(f.Name, "/") && f.Name != "Factory" {
			files[f.Name] = f
		}
	}
	return files, nil
})

// aliases maps old names to those in use, "Europe/Kiev" to "Europe/Kyiv".
var aliases = sync.OnceValue(func() map[string]string {
	out := map[string]string{}
	for line := range strings.Lines(aliasText) {
		if old, current, ok := strings.Cut(strings.TrimSpace(line), " "); ok && old != "#" {
			out[old] = current
		}
	}
	return out
})

// Load gives the zone of an IANA name. The empty name and "Local" mean something only on one
// machine and are refused like any unknown name, with an *Error.
func Load(name string) (*time.Location, error) {
	files, err := index()
	if err != nil {
		return nil, err
	}
	f, ok := files[name]
	if !ok {
		return nil, &Error{Name: name, Nearest: nearest(name)}
	}
	r, err := f.Open()
	if err != nil {
		return nil, fmt.Errorf("time zone %s: %w", name, err)
	}
	defer r.Close()
	tz, err := io.ReadAll(r)
	if err != nil {
		return nil, fmt.Errorf("time zone %s: %w", name, err)
	}
	loc, err := time.LoadLocationFromTZData(name, tz)
	if err != nil {
		return nil, fmt.Errorf("time zone %s: %w", name, err)
	}
	return loc, nil
}

// Names lists all names in use, sorted; old ones are left out.
func Names() []string {
	files, err := index()
	if err != nil {
		return nil
	}
	names := make([]string, 0, len(files))
	for name := range files {
		if _, old := aliases()[name]; !old {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	return names
}

// nearest finds the name that was probably meant: the same letters in another case or with
// spaces, the same city without or with a wrong region, or few letters changed, of a city
// in its region few of its own: not every city has a zone, and another one is not meant.
func nearest(name string) string {
	want := fold(name)
	if want == "" || want == "local" {
		return ""
	}
	best, distance := "", len(want)/3+1
	place := city(want)
	for _, n := range Names() {
		have := fold(n)
		if have == want {
			return n
		}
		d := edits(want, have, distance)
		if place != want && have == strings.TrimSuffix(want, place)+city(have) && d > len(place)/3 {
			d = distance
		}
		if city(have) == place && d >= distance && best == "" {
			best = n
		}
		if d < distance {
			best, distance = n, d
		}
	}
	return best
}

func fold(name string) string {
	return strings.ReplaceAll(strings.ToLower(strings.TrimSpace(name)), " ", "_")
}

// city is a name without its region.
func city(name string) string { return name[strings.LastIndexByte(name, '/')+1:] }

// edits counts the insertions, deletions and replacements (Levenshtein) that turn a into b, and
// gives up at limit.
func edits(a, b string, limit int) int {
	if len(a)-len(b) >= limit || len(b)-len(a) >= limit {
		return limit
	}
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diagonal, least := row[0], i+1
		row[0] = i + 1
		for j := range len(b) {
			cost := diagonal
			if a[i] != b[j] {
				cost++
			}
			diagonal = row[j+1]
			row[j+1] = min(cost, row[j]+1, row[j+1]+1)
			least = min(least, row[j+1])
		}
		if least >= limit {
			return limit
		}
	}
	return row[len(b)]
}
