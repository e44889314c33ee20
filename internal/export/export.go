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
	"io"
	"io/fs"
	"runtime"
	"strings"
	"sync"
	"sync/atomic"

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
// sessions, a workout file for each session and for what may be ridden instead of it, and last the
// manifest that names them all. An error names the session or file that cannot be written; then
// there are no files at all.
func Bundle(p *prescription.Prescription, findings diag.List, o Options) ([]File, error) {
	workouts := workoutsOf(p.Sessions)
	makers := []maker{
		{CalendarName, func(w io.Writer) error { return Calendar(w, p, o.Record) }},
		{PlanName, func(w io.Writer) error { return JSON(w, p, findings, o.Files, o.Generator) }},
		{SessionsName, func(w io.Writer) error { return CSV(w, p) }},
	}
	for i, name := range workoutNames(workouts) {
		makers = append(makers, maker{workoutsDir + name, func(w io.Writer) error { return workouts[i].write(w, p.Block.Athlete) }})
	}
	files, err := makeAll(makers)
	if err != nil {
		return nil, err
	}
	var list bytes.Buffer
	if err := NewManifest(files).write(&list); err != nil {
		return nil, fmt.Errorf("%s: %w", ManifestName, err)
	}
	return append(files, File{Name: ManifestName, Bytes: list.Bytes()}), nil
}

// maker makes one file.
type maker struct {
	name string
	make func(io.Writer) error
}

// makeAll makes files at the same time, each from the same input and none from another. The error
// is that of the first in order, so that it is the same in every run.
func makeAll(makers []maker) ([]File, error) {
	files, errs := make([]File, len(makers)), make([]error, len(makers))
	var next atomic.Int64
	var workers sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(makers)) {
		workers.Go(func() {
			for i := int(next.Add(1)) - 1; i < len(makers); i = int(next.Add(1)) - 1 {
				var buf bytes.Buffer
				if err := makers[i].make(&buf); err != nil {
					errs[i] = fmt.Errorf("%s: %w", makers[i].name, err)
				}
				files[i] = File{Name: makers[i].name, Bytes: buf.Bytes()}
			}
		})
	}
	workers.Wait()
	for _, err := range errs {
		if err != nil {
			return nil, err
		}
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
