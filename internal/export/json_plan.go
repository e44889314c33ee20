package export

import (
	"encoding/json"

	"towpath/internal/diag"
)

// The types of this file are plan.json, field by field, in the order in which they are written.

type planDoc struct {
	Schema    string                `json:"$schema"`
	Generator string                `json:"generator"`
	Plan      string                `json:"plan"`
	Athlete   string                `json:"athlete"`
	Block     string                `json:"block"`
	AsOf      *string               `json:"as_of"`
	Length    *lengthDoc            `json:"open_length"`
	Calendar  calendarDoc           `json:"calendar"`
	Device    deviceDoc             `json:"device"`
	Events    []eventDoc            `json:"events"`
	Weeks     []weekDoc             `json:"weeks"`
	Bands     []bandDoc             `json:"bands"`
	Sessions  []sessionDoc          `json:"sessions"`
	Other     []otherDoc            `json:"other_sport"`
	Findings  []diag.JSONDiagnostic `json:"findings"`
}

type lengthDoc struct {
	Shortest  int    `json:"shortest_weeks"`
	Longest   int    `json:"longest_weeks"`
	Decide    int    `json:"decided_in_week"`
	DecidedBy string `json:"decided_by"`
}

type calendarDoc struct {
	Hours       bool `json:"hours"`
	ReminderMin *int `json:"reminder_min"`
}

type deviceDoc struct {
	Leads     *string `json:"leads"`
	Letters   string  `json:"letters"`
	MostSteps int     `json:"most_steps"`
	HeartRate bool    `json:"heart_rate"`
}

type eventDoc struct {
	Key      string `json:"key"`
	UID      string `json:"uid"`
	Title    string `json:"title"`
	Date     string `json:"date"`
	LastsMin *int   `json:"lasts_min"`
}

type otherDoc struct {
	Key     string  `json:"key"`
	Title   string  `json:"title"`
	Date    string  `json:"date"`
	Start   *string `json:"start"`
	Zone    *string `json:"zone"`
	Minutes *int    `json:"minutes"`
	Demand  string  `json:"demand"`
}

type weekDoc struct {
	Number      int                 `json:"number"`
	Start       string              `json:"start"`
	Kind        string              `json:"kind"`
	Provisional bool                `json:"provisional"`
	AskedMin    int                 `json:"asked_min"`
	PlacedMin   int                 `json:"placed_min"`
	Mix         []mixDoc            `json:"mix"`
	WorkKJ      *[3]json.RawMessage `json:"work_kj"`
	TRIMP       *[3]json.RawMessage `json:"trimp"`
	SessionRPE  *sessionRPEDoc      `json:"session_rpe"`
	Monotony    json.RawMessage     `json:"monotony"`
	Scale       *string             `json:"monotony_scale"`
	Paused      []pausedDoc         `json:"paused"`
}

// pausedDoc is a fixed ride that is left out on its day.
type pausedDoc struct {
	Date    string `json:"date"`
	Fixed   string `json:"fixed"`
	Session string `json:"session"`
	Why     string `json:"why"`
}

type mixDoc struct {
	Ride      string `json:"ride"`
	WishedMin int    `json:"wished_min"`
	PlacedMin int    `json:"placed_min"`
}

type sessionRPEDoc struct {
	Scale string          `json:"scale"`
	Value json.RawMessage `json:"value"`
}

type bandDoc struct {
	From       *string             `json:"from"`
	Place      *string             `json:"place"`
	Source     string              `json:"source"`
	PowerW     *[2]json.RawMessage `json:"power_w"`
	HeartRate  *[2]json.RawMessage `json:"heart_rate_bpm"`
	RPE        *[2]json.RawMessage `json:"rpe"`
	Threshold  *thresholdDoc       `json:"threshold"`
	Allowances []allowanceDoc      `json:"allowances"`
}

type thresholdDoc struct {
	PowerW  json.RawMessage            `json:"power_w"`
	SEW     json.RawMessage            `json:"se_w"`
	Method  string                     `json:"method"`
	Methods map[string]json.RawMessage `json:"methods"` // encoding/json sorts the keys
}

// allowanceDoc is a band's, before rounding.
type allowanceDoc struct {
	Name      string          `json:"name"`
	DurationS int             `json:"duration_s"`
	AllOut    bool            `json:"all_out"`
	PowerW    json.RawMessage `json:"power_w"`
}

// allowedDoc is what an allowance comes to for the rider.
type allowedDoc struct {
	Name      string `json:"name"`
	DurationS int    `json:"duration_s"`
	PowerW    *int   `json:"power_w"`
}

type sessionDoc struct {
	Key         string  `json:"key"`
	UID         string  `json:"uid"`
	Week        int     `json:"week"`
	Provisional bool    `json:"provisional"`
	Date        string  `json:"date"`
	Start       *string `json:"start"`
	Zone        *string `json:"zone"`
	Ride        *string `json:"ride"`
	Fixed       *string `json:"fixed"`
	Session     string  `json:"session"`
	rideDoc
	Why     *string     `json:"why"`
	Note    *string     `json:"note"`
	Placed  string      `json:"placed"`
	Instead *insteadDoc `json:"instead"`
	Origin  originDoc   `json:"origin"`
}

// insteadDoc is the same session at the day's other place.
type insteadDoc struct {
	rideDoc
	Origin originDoc `json:"origin"`
}

// rideDoc is what is ridden, at one place.
type rideDoc struct {
	Place   *string      `json:"place"`
	Minutes int          `json:"minutes"`
	Leads   *string      `json:"leads"`
	Targets targetsDoc   `json:"targets"`
	Allowed []allowedDoc `json:"allowed"`
	Steps   []any        `json:"steps"` // stepDoc, rampDoc or repeatDoc
}

type targetsDoc struct {
	PowerW    *[2]int  `json:"power_w"`
	HeartRate *[2]*int `json:"heart_rate_bpm"`
	RPE       *[2]*int `json:"rpe"`
}

// stepDoc is a steady or an open step.
type stepDoc struct {
	Kind      string  `json:"kind"`
	Name      string  `json:"name"`
	Role      string  `json:"role"`
	DurationS int     `json:"duration_s"`
	AllOut    bool    `json:"all_out"`
	Over      *string `json:"over"`
	Cadence   *[2]int `json:"cadence_rpm"`
	targetsDoc
	Note *string `json:"note"`
}

type rampDoc struct {
	stepDoc
	Falling bool `json:"falling"`
}

type repeatDoc struct {
	Kind  string `json:"kind"`
	Times int    `json:"times"`
	Steps []any  `json:"steps"`
}

type originDoc struct {
	What   string      `json:"what"`
	File   *string     `json:"file"`
	Line   *int        `json:"line"`
	Source *string     `json:"source"`
	From   []originDoc `json:"from"` // null where the same was told before
}
