package main

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"towpath/internal/diag"
)

// machine is all of the outside world that a command may touch, besides files.
type machine struct {
	stdin          io.Reader
	stdout, stderr io.Writer
	getenv         func(string) string
	now            func() time.Time
	random         io.Reader
}

// The exit codes.
const (
	exitFindings = 1 // errors in a plan, findings that --strict forbids, unformatted files
	exitUsage    = 2 // wrong use, a folder that is not there
	exitFailure  = 3 // files that cannot be read or written, our own failure
)

// exitError ends the program with a code. Err is nil where all was said already.
type exitError struct {
	code int
	err  error
}

func (e *exitError) Error() string {
	if e.err == nil {
		return fmt.Sprintf("exit code %d", e.code)
	}
	return e.err.Error()
}

func (e *exitError) Unwrap() error { return e.err }

func usageError(format string, args ...any) error {
	return &exitError{exitUsage, fmt.Errorf(format, args...)}
}

func failure(err error) error { return &exitError{exitFailure, err} }

// run executes one command and gives the exit code.
func run(args []string, m machine) int {
	root := rootCommand(m)
	root.SetArgs(args)
	err := root.Execute()
	if err == nil {
		return 0
	}
	exit := &exitError{code: exitUsage, err: err} // what cobra itself refuses is wrong use
	errors.As(err, &exit)
	if exit.err != nil {
		for line := range strings.SplitSeq(strings.TrimRight(exit.err.Error(), "\n"), "\n") {
			fmt.Fprintf(m.stderr, "towpath: %s\n", diag.Printable(line))
		}
	}
	return exit.code
}

func rootCommand(m machine) *cobra.Command {
	a := &app{machine: m}
	root := &cobra.Command{
		Use:   "towpath",
		Short: "Compile a block spec into an athlete's sessions",
		Long: `towpath compiles a block spec into an athlete's sessions: placed on days, with targets in power,
heart rate and effort, exported as calendar, workout files, JSON and CSV, with findings.

A plan is a folder with .hcl files, or one such file. towpath proposes; the coach decides.

Exit codes: 0 clean, or findings below an error; 1 errors found (see --strict);
2 wrong use, a missing folder; 3 files that cannot be read or written.

NO_COLOR in the environment turns colour off.`,
		SilenceUsage:               true,
		SilenceErrors:              true,
		SuggestionsMinimumDistance: 2,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) > 0 {
				return usageError("there is no command %q%s", args[0], nearest(cmd, args[0]))
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	root.SetIn(m.stdin)
	root.SetOut(m.stdout)
	root.SetErr(m.stderr)
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error {
		return usageError("%w\n%q tells how it is used", err, cmd.CommandPath()+" --help")
	})
	a.color = oneOf("auto", "always", "never")
	root.PersistentFlags().Var(&a.color, "color", "colour on the terminal: auto, always or never")
	complete(root, "color", a.color.allowed)
	root.AddCommand(
		a.newCommand(), a.checkCommand(), a.buildCommand(), a.showCommand(), a.explainCommand(),
		a.fmtCommand(), a.rulesCommand(), a.referenceCommand(), a.versionCommand(),
	)
	root.InitDefaultHelpCmd()
	root.InitDefaultCompletionCmd()
	for _, cmd := range root.Commands() {
		switch cmd.Name() {
		case "help":
			cmd.Short = "Tell how a command is used"
			cmd.Args = func(_ *cobra.Command, args []string) error {
				if _, rest, err := root.Find(args); err != nil || len(rest) > 0 {
					return usageError("there is no command %q%s", strings.Join(args, " "), nearest(root, args[0]))
				}
				return nil
			}
		case "completion":
			cmd.Short = "Print a script that lets a shell complete commands and names"
			cmd.Args = cobra.ArbitraryArgs
			cmd.RunE = func(cmd *cobra.Command, args []string) error {
				if len(args) > 0 {
					return usageError("there is no completion for %q%s", args[0], nearest(cmd, args[0]))
				}
				return usageError("%s needs a shell; %q lists them", cmd.CommandPath(), cmd.CommandPath()+" --help")
			}
		}
	}
	return root
}

// nearest names the commands that were probably meant.
func nearest(cmd *cobra.Command, word string) string {
	if near := cmd.SuggestionsFor(word); len(near) > 0 {
		return fmt.Sprintf("; write %q", cmd.CommandPath()+" "+near[0])
	}
	return fmt.Sprintf("; %q lists them", cmd.CommandPath()+" --help")
}

// app is the program with its global flags.
type app struct {
	machine
	color choice
}

// choice is a flag that takes one of a few words.
type choice struct {
	value   string
	allowed []string
}

// oneOf makes a choice; the first word is the default.
func oneOf(words ...string) choice { return choice{words[0], words} }

func (c *choice) String() string { return c.value }

func (c *choice) Type() string { return "word" }

func (c *choice) Set(s string) error {
	if !slices.Contains(c.allowed, s) {
		return fmt.Errorf("write one of: %s", strings.Join(c.allowed, ", "))
	}
	c.value = s
	return nil
}

// complete lets the shell complete a flag's words.
func complete(cmd *cobra.Command, flag string, words []string) {
	if err := cmd.RegisterFlagCompletionFunc(flag, cobra.FixedCompletions(words, cobra.ShellCompDirectiveNoFileComp)); err != nil {
		panic(err) // the flag was not defined: a fault of ours that the first run shows
	}
}

// upTo refuses more than n arguments, in words.
func upTo(n int, what string) cobra.PositionalArgs { return between(0, n, what) }

// between refuses fewer than least or more than most arguments, in words.
func between(least, most int, what string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		switch {
		case len(args) < least:
			return usageError("%s needs %s: write %q", cmd.CommandPath(), what, cmd.UseLine())
		case len(args) > most && most == 0:
			return usageError("%s takes no more words, and found %q", cmd.CommandPath(), strings.Join(args, " "))
		case len(args) > most:
			return usageError("%s takes %s, and found %d: %s", cmd.CommandPath(), what, len(args), strings.Join(args, ", "))
		}
		return nil
	}
}
