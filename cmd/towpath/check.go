package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"towpath/internal/diag"
	"towpath/internal/rules"
)

func (a *app) checkCommand() *cobra.Command {
	var f planFlags
	cmd := &cobra.Command{
		Use:   "check [PLAN]",
		Short: "Say what is wrong with a plan, and what to think about",
		Long: `check compiles the plan in a folder (by default the current one) and prints its findings. It writes
no file. An error means that no correct plan can be made; a warning or an advice is the coach's to
weigh, and can be waived in the block with a reason.`,
		Args: upTo(1, "one plan"),
		RunE: func(_ *cobra.Command, args []string) error {
			return compilePlan(planAt(args), f, func(c *compiled) error {
				if err := a.print(a.stdout, c, f.format.value); err != nil {
					return err
				}
				if code := documented(c.Findings); code != "" && f.format.value == "text" {
					fmt.Fprintf(a.stdout, "\"towpath rules %s\" explains a finding\n", code)
				}
				return f.verdict(c.Findings)
			})
		},
	}
	f.register(cmd, true, true)
	return cmd
}

// documented is the code of the first finding that the rule book explains, "" where there is none.
func documented(list diag.List) string {
	for _, d := range list {
		for _, r := range rules.All {
			if r.Code == d.Code {
				return d.Code
			}
		}
	}
	return ""
}
