package main

import (
	"github.com/spf13/cobra"
)

func (a *app) rulesCommand() *cobra.Command {
	return &cobra.Command{Use: "rules [CODE]", Short: "Print the rule book, or what one rule is about"}
}
