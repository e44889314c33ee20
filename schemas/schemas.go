// Package schemas holds the JSON Schemas (2020-12) of what the tool writes.
package schemas

import "embed"

// FS holds the schemas.
//
//go:embed *.json
var FS embed.FS
