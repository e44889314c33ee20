package export

import (
	"encoding/csv"
	"encoding/json"
	"io"
	"strconv"
	"strings"
	"unicode/utf8"

	"towpath/internal/prescription"
	"towpath/internal/units"
	"towpath/internal/words"
)

// csvHeader names the columns of sessions.csv, each number with its unit.
var csvHeader = []string{
	"date", "start", "zone", "week", "provisional", "key", "uid", "ride", "fixed", "session", "title", "minutes", "place", "placed", "leads",
	"power_low_w", "power_high_w", "heart_rate_low_bpm", "heart_rate_high_bpm", "rpe_at_most",
	"work_kj_low", "work_kj_mid", "work_kj_high", "trimp_low", "trimp_mid", "trimp_high", "session_rpe_cr10_min",
	"why", "note", "allowed", "instead_place", "instead_minutes", "instead_title",
}

// CSV writes one row per session (RFC 4180, lines end in CR LF). A cell is empty where something
// is not known. A cell of the coach's text that a spreadsheet would take for a formula is led by
// an apostrophe.
func CSV(w io.Writer, p *prescription.Prescription) error {
	out := csv.NewWriter(w)
	out.UseCRLF = true
	rows := [][]string{csvHeader}
	for i := range p.Sessions {
		rows = append(rows, csvRow(&p.Sessions[i]))
	}
	return out.WriteAll(rows)
}

func csvRow(s *prescription.Session) []string {
	placed := "chosen"
	if s.Given {
		placed = "given"
	}
	provisional := ""
	if s.Provisional {
		provisional = "yes"
	}
	row := []string{
		s.Date.String(), s.Start.String(), cell(s.Zone), strconv.Itoa(s.Week), provisional, cell(s.Key), cell(s.UID),
		cell(s.Ride), cell(s.Fixed), cell(s.Session), cell(s.Title), strconv.Itoa(int(s.Minutes)), cell(s.Place), placed, cell(s.Leads),
	}
	row = append(row, rangeCells(s.Targets.Power)...)
	low, high, effort := "", "", ""
	if b := s.Targets.HeartRate; b != nil {
		high = strconv.Itoa(b.High)
		if b.Low != nil {
			low = strconv.Itoa(*b.Low)
		}
	}
	if s.Targets.Effort != nil {
		effort = strconv.Itoa(*s.Targets.Effort)
	}
	row = append(row, low, high, effort)
	row = append(row, threeCells(three(s.Load.Work, workDecimals))...)
	row = append(row, threeCells(three(s.Load.TRIMP, trimpDecimals))...)
	rpe := ""
	if s.Load.SessionRPE != nil {
		rpe = known(decimals(*s.Load.SessionRPE, sessionRPEDecimals))
	}
	row = append(row, rpe, cell(s.Why), cell(s.Note), cell(words.AllowedNote(s.Words().Allowed)))
	if there := s.Instead; there != nil {
		return append(row, cell(there.Place), strconv.Itoa(int(there.Minutes)), cell(there.Title))
	}
	return append(row, "", "", "")
}

func rangeCells(r *units.Range[int]) []string {
	if r == nil {
		return []string{"", ""}
	}
	return []string{strconv.Itoa(r.Low), strconv.Itoa(r.High)}
}

func threeCells(t *[3]json.RawMessage) []string {
	out := make([]string, 3)
	if t != nil {
		for i, v := range t {
			out[i] = known(v)
		}
	}
	return out
}

// known is a printed number, empty where there is none.
func known(number json.RawMessage) string {
	if string(number) == "null" {
		return ""
	}
	return string(number)
}

// cell makes text safe for a table: one line, and no formula. Spreadsheets also skip leading
// spaces and take the wide forms of the signs.
func cell(s string) string {
	s = cleanLine(s)
	first, _ := utf8.DecodeRuneInString(s)
	if strings.ContainsRune("=+-@\uFF1D\uFF0B\uFF0D\uFF20", first) && s != "" {
		return "'" + s
	}
	return s
}
