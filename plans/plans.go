// Package plans holds the demo plans, each a folder. The command `new` writes them with other dates,
// so their comments teach the language.
package plans

import "embed"

// FS holds a folder for each kind of plan that `new` writes.
//
//go:embed six-weeks first-hours comeback roster club two-bikes
var FS embed.FS
