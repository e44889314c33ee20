package main

import (
	"bytes"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"towpath/internal/diag"
)

// narrowest is the width in columns below which a block cannot be laid out.
const narrowest = 36

func (a *app) showCommand() *cobra.Command {
	var f planFlags
	var width int
	cmd := &cobra.Command{
		Use:   "show [PLAN]",
		Short: "Show a plan's blocks in the terminal",
		Long: `show compiles the plan in a folder (by default the current one) and shows each athlete's block: one row
per week in which each day is a bar as long as its riding, and then every week with its load and its
sessions. It fits itself to the terminal's width.`,
		Args: upTo(1, "one plan"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if cmd.Flags().Changed("width") && width < narrowest {
				return usageError("--width: write a number of columns from %d on", narrowest)
			}
			if width == 0 {
				width = max(narrowest, a.width())
			}
			return compilePlan(planAt(args), f, func(c *compiled) error { return a.show(c, &f, planAt(args), width) })
		},
	}
	f.register(cmd, false, false)
	cmd.Flags().IntVar(&width, "width", 0, "how many `columns` to use; by default those of the terminal, or 80")
	return cmd
}

func (a *app) show(c *compiled, f *planFlags, plan string, width int) error {
	if err := a.refusal(c, f); err != nil {
		return err
	}
	var out bytes.Buffer
	s := sheet{out: &out, width: width, color: a.colored(a.stdout)}
	for i, p := range c.Prescriptions {
		if i > 0 {
			s.line("")
			s.line("%s", strings.Repeat("─", width))
			s.line("")
		}
		s.block(p)
	}
	s.line("")
	if len(c.Findings) == 0 {
		s.line("%s", diag.Counts(c.Findings))
	} else {
		s.wrapped("", "", fmt.Sprintf("%s: \"towpath check %s\" tells more", diag.Counts(c.Findings), plan))
	}
	return a.deliver(out.Bytes())
}
