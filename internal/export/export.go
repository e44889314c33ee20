// Package export writes what a rider and a coach take away: a calendar, workout files, JSON, CSV
// and the list of them. A Prescription goes in with the findings about it, bytes come out. It
// computes no training number, opens no file and looks at no clock: the same prescription gives
// the same bytes on any day and machine.
package export

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io/fs"
	"strings"

	"towpath/internal/diag"
	"towpath/internal/prescription"
	"towpath/internal/record"
)

// The names of the files in the folder of a block.
const (
	CalendarName = "calendar.ics"
	PlanName     = "plan.json"
	SessionsName = "sessions.csv"
	ManifestName = "files.json"
	workoutsDir  = "workouts/"
)

// Options are what an export needs besides the prescription.
type Options struct {
	Generator string            // the program and its version, for plan.json alone
	Files     map[string][]byte // the plan's texts by name, to count columns of findings
	Record    *record.Athlete   // what was delivered; nil before the first delivery
}

// File is a file of an athlete's block, its name relative to the block's folder, with "/".
type File struct {
	Name  string
	Bytes []byte
}

// Bundle makes every file of one athlete's block: the calendar, the plan as JSON, the table of
// sessions, a workout file for each session, and last the manifest that names them all. An error
// names the session or file that cannot be written; then there are no files at all.
func Bundle(p *prescription.Prescription, findings diag.List, o Options) ([]File, error) {
	var files []File
	var buf bytes.Buffer
	add := func(name string, err error) error {
		if err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		files = append(files, File{Name: name, Bytes: bytes.Clone(buf.Bytes())})
		buf.Reset()
		return nil
	}
	if err := add(CalendarName, Calendar(&buf, p, o.Record)); err != nil {
		return nil, err
	}
	if err := add(PlanName, JSON(&buf, p, findings, o.Files, o.Generator)); err != nil {
		return nil, err
	}
	if err := add(SessionsName, CSV(&buf, p)); err != nil {
		return nil, err
	}
	names := WorkoutNames(p.Sessions)
	for i := range p.Sessions {
		if err := add(workoutsDir+names[i], Workout(&buf, p, &p.Sessions[i])); err != nil {
			return nil, err
		}
	}
	if err := add(ManifestName, NewManifest(files).write(&buf)); err != nil {
		return nil, err
	}
	return files, nil
}

// Manifest lists the files of a folder with their hashes. It is removed before anything in the
// folder changes and written last, so a folder without it is not whole.
type Manifest struct {
	Files []Entry `json:"files"`
}

// Entry is one file of a manifest.
type Entry struct {
	Name   string `json:"name"`   // relative to the manifest's folder, with "/"
	SHA256 string `json:"sha256"` // of the content, in hexadecimal
}

// NewManifest lists files in the order given.
func NewManifest(files []File) Manifest {
	m := Manifest{Files: make([]Entry, len(files))}
	for i, f := range files {
		sum := sha256.Sum256(f.Bytes)
		m.Files[i] = Entry{Name: f.Name, SHA256: hex.EncodeToString(sum[:])}
	}
	return m
}

func (m Manifest) write(buf *bytes.Buffer) error { return writeJSON(buf, m) }

// ReadManifest reads what an earlier build left in a folder. Names that lead out of the folder,
// or to the manifest itself, are refused: whoever removes old files may trust the rest.
func ReadManifest(data []byte) (Manifest, error) {
	var m Manifest
	if err := json.Unmarshal(data, &m); err != nil {
		return Manifest{}, fmt.Errorf("%s is no list of files: %w", ManifestName, err)
	}
	for _, f := range m.Files {
		if !fs.ValidPath(f.Name) || f.Name == "." || f.Name == ManifestName || strings.ContainsAny(f.Name, "\\:\x00") {
			return Manifest{}, fmt.Errorf("%s names %q, which is no file of its folder", ManifestName, f.Name)
		}
	}
	return m, nil
}
