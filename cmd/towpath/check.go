package main

import "github.com/spf13/cobra"

func (a *app) checkCommand() *cobra.Command {
	var f planFlags
	fix := choice{allowed: []string{"error", "warning", "advice"}} // none until it is asked for
	cmd := &cobra.Command{
		Use:   "check [PLAN]",
		Short: "Say what is wrong with a plan, and what to think about",
		Long: `check compiles the plan in a folder (by default the current one) and prints its findings. It writes
no file, unless --fix asks it to make the proposed changes in the plan; what can be read only after
those is mended too. An error means that no correct
plan can be made; a warning or an advice is the coach's to weigh, and can be waived in the block with a
reason.`,
		Args: upTo(1, "one plan"),
		RunE: func(_ *cobra.Command, args []string) error {
			if fix.value != "" {
				if err := a.mendPlan(planAt(args), f, severityOf(fix.value)); err != nil {
					return err
				}
			}
			return compilePlan(planAt(args), f, func(c *compiled) error {
				if err := a.print(a.stdout, c, f.format.value); err != nil {
					return err
				}
				if f.format.value == "text" {
					a.offerMending(c, planAt(args))
				}
				return f.verdict(c.Findings)
			})
		},
	}
	f.register(cmd, true, true)
	cmd.Flags().Var(&fix, "fix", "make the proposed changes in the plan, down to this `finding`: error, warning, or advice")
	cmd.Flags().Lookup("fix").NoOptDefVal = "error"
	complete(cmd, "fix", fix.allowed)
	return cmd
}
