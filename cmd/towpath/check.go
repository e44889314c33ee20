package main

import "github.com/spf13/cobra"

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
				return f.verdict(c.Findings)
			})
		},
	}
	f.register(cmd, true, true)
	return cmd
}
