package main

import (
	"fmt"
	"io"
	"runtime/debug"

	"github.com/spf13/cobra"
)

// versionInfo is what the program knows of itself.
type versionInfo struct {
	Version  string  `json:"version"`  // "(devel)" for a build that is no release
	Revision *string `json:"revision"` // of the repository; null where the build did not record it
	Modified *bool   `json:"modified"` // whether files differed from the revision; null likewise
	Go       string  `json:"go"`
}

const unreleased = "(devel)"

// thisVersion reads what the Go tool recorded in the program.
func thisVersion() versionInfo {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return versionInfo{Version: unreleased}
	}
	return versionOf(info)
}

func versionOf(info *debug.BuildInfo) versionInfo {
	v := versionInfo{Version: info.Main.Version, Go: info.GoVersion}
	if v.Version == "" {
		v.Version = unreleased
	}
	for _, s := range info.Settings {
		switch s.Key {
		case "vcs.revision":
			v.Revision = &s.Value
		case "vcs.modified":
			modified := s.Value == "true"
			v.Modified = &modified
		}
	}
	return v
}

func (v versionInfo) text() string {
	out := fmt.Sprintf("towpath %s\n", v.Version)
	if v.Revision != nil {
		changed := ""
		if v.Modified != nil && *v.Modified {
			changed = ", with changes"
		}
		out += fmt.Sprintf("revision %s%s\n", *v.Revision, changed)
	}
	if v.Go != "" {
		out += fmt.Sprintf("built with %s\n", v.Go)
	}
	return out
}

// generator is how the program names itself in what it writes.
func generator() string { return "towpath " + thisVersion().Version }

func (a *app) versionCommand() *cobra.Command {
	var format choice
	cmd := &cobra.Command{
		Use:   "version",
		Short: "Print the version of this program",
		Args:  upTo(0, ""),
		RunE: func(*cobra.Command, []string) error {
			v := thisVersion()
			if format.value == "json" {
				if err := printJSON(a.stdout, v); err != nil {
					return failure(err)
				}
				return nil
			}
			if _, err := io.WriteString(a.stdout, v.text()); err != nil {
				return failure(err)
			}
			return nil
		},
	}
	registerFormat(cmd, &format)
	return cmd
}
