package main

import (
	"fmt"
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
				return printJSON(a.stdout, v)
			}
			fmt.Fprintf(a.stdout, "towpath %s\n", v.Version)
			if v.Revision != nil {
				changed := ""
				if v.Modified != nil && *v.Modified {
					changed = ", with changes"
				}
				fmt.Fprintf(a.stdout, "revision %s%s\n", *v.Revision, changed)
			}
			if v.Go != "" {
				fmt.Fprintf(a.stdout, "built with %s\n", v.Go)
			}
			return nil
		},
	}
	registerFormat(cmd, &format)
	return cmd
}
