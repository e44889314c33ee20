package main

import (
	"bytes"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"towpath/internal/diag"
	"towpath/internal/physiology"
	"towpath/internal/rules"
	"towpath/internal/spec"
)

func (a *app) rulesCommand() *cobra.Command {
	var format choice
	cmd := &cobra.Command{
		Use:   "rules [CODE]",
		Short: "Print the rule book, or what one rule is about",
		Long: `rules lists what is looked at in a finished plan. With a rule's code it tells why, how to mend a finding,
what the default is and what stands behind it.

A finding is accepted in the block that it speaks of, with a reason:
  waive "weekly-growth" {
    reason = "..."
  }`,
		Args: upTo(1, "one code"),
		ValidArgsFunction: func(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
			if len(args) > 0 {
				return nil, cobra.ShellCompDirectiveNoFileComp
			}
			return rules.Codes(), cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(_ *cobra.Command, args []string) error {
			book := rules.All
			if len(args) > 0 {
				r, ok := rules.Find(args[0])
				if !ok {
					return usageError("there is no rule %q%s", args[0], nearestRule(args[0]))
				}
				book = []rules.Rule{r}
			}
			var out bytes.Buffer
			var err error
			switch {
			case format.value == "json":
				err = printJSON(&out, documents(book))
			case len(args) > 0:
				a.printRule(&out, book[0])
			default:
				a.printBook(&out, book)
			}
			if err != nil {
				return failure(err)
			}
			return a.deliver(out.Bytes())
		},
	}
	registerFormat(cmd, &format)
	return cmd
}

// nearestRule names the rule that was probably meant.
func nearestRule(word string) string {
	if near := spec.Nearest(word, rules.Codes()); near != "" {
		return fmt.Sprintf("; write %q", "towpath rules "+near)
	}
	return "; \"towpath rules\" lists them"
}

// printBook prints the rules as a table: code, what is looked at, default.
func (a *app) printBook(w io.Writer, book []rules.Rule) {
	width := 0
	for _, r := range book {
		width = max(width, len(r.Code))
	}
	indent := strings.Repeat(" ", width+2)
	for _, r := range book {
		lines := diag.Wrap(r.Title, a.width()-len(indent))
		lines = append(lines, diag.Wrap("default: "+firstSentence(r.Default), a.width()-len(indent))...)
		for i, l := range lines {
			if i == 0 {
				fmt.Fprintf(w, "%-*s  %s\n", width, r.Code, l)
			} else {
				fmt.Fprintf(w, "%s%s\n", indent, l)
			}
		}
	}
	fmt.Fprint(w, "\n\"towpath rules CODE\" tells more of one\n")
}

// firstSentence is enough of a default for the table; the rule by itself tells all of it.
func firstSentence(s string) string {
	first, _, _ := strings.Cut(s, ". ")
	return strings.TrimSuffix(first, ".")
}

// printRule prints all that the book says of one rule.
func (a *app) printRule(w io.Writer, r rules.Rule) {
	const indent = "  "
	part := func(title string, texts ...string) {
		if strings.Join(texts, "") == "" {
			return
		}
		fmt.Fprintf(w, "\n%s\n", title)
		for _, text := range texts {
			if text == "" {
				continue
			}
			for _, l := range diag.Wrap(text, a.width()-len(indent)) {
				fmt.Fprintf(w, "%s\n", strings.TrimRight(indent+l, " "))
			}
		}
	}
	verbatim := func(title, text string) {
		if text != "" {
			fmt.Fprintf(w, "\n%s\n", title)
			for line := range strings.Lines(text) {
				fmt.Fprint(w, strings.TrimRight(indent+line, " \n")+"\n")
			}
		}
	}
	fmt.Fprintf(w, "%s: %s\n", r.Code, r.Title)
	part("Why", r.Why)
	part("How to mend it", r.Mend)
	limit := ""
	if r.Limit != "" {
		limit = fmt.Sprintf("A limit of your own: limits { %s = … }. It is kept, or it is an error; with when_broken = \"warn\" a warning.", r.Limit)
	}
	part("Default", r.Default, limit)
	part("What stands behind it", evidence(r))
	cited := make([]string, len(r.Sources)) // where there is none, the evidence has said so
	for i, key := range r.Sources {
		cited[i] = reference(key)
	}
	part("Source", cited...)
	verbatim("A plan that shows it", r.Bad())
	verbatim("What is said of it", r.Finding())
	verbatim("A plan that keeps it", r.Good())
}

// evidence is what stands behind a rule, and in whom it was found.
func evidence(r rules.Rule) string {
	if r.Population == "" {
		return r.Evidence
	}
	return r.Evidence + " Found in: " + strings.TrimSuffix(r.Population, ".") + "."
}

// reference cites a source in full, and says where it was not read for this.
func reference(key string) string {
	s, ok := physiology.Sources[key]
	if !ok {
		return key
	}
	out := fmt.Sprintf("%s (%d): %s. %s", s.Authors, s.Year, s.Title, s.Journal)
	if s.DOI != "" {
		out += ", doi:" + s.DOI
	}
	switch s.Read {
	case "memory":
		out += " (cited from memory)"
	case "abstract":
		out += " (read as an abstract)"
	}
	return out
}

// document is a rule for programs.
type document struct {
	Code       string   `json:"code"`
	Title      string   `json:"title"`
	Why        string   `json:"why"`
	Mend       string   `json:"mend"`
	Default    string   `json:"default"`
	Limit      *string  `json:"limit"` // its name in limits { }, null where it has none
	Evidence   string   `json:"evidence"`
	Population *string  `json:"population"` // null where there is no evidence
	Sources    []string `json:"sources"`    // none: common practice, no source
	Bad        string   `json:"bad"`        // a plan that shows it
	Finding    string   `json:"finding"`    // what is said of that
	Good       string   `json:"good"`       // a plan that keeps it
}

func documents(book []rules.Rule) []document {
	out := make([]document, len(book))
	for i, r := range book {
		out[i] = document{
			Code: r.Code, Title: r.Title, Why: r.Why, Mend: r.Mend, Default: r.Default,
			Limit: orNull(r.Limit), Evidence: r.Evidence, Population: orNull(r.Population), Sources: []string{},
			Bad: r.Bad(), Finding: r.Finding(), Good: r.Good(),
		}
		for _, key := range r.Sources {
			out[i].Sources = append(out[i].Sources, reference(key))
		}
	}
	return out
}

func orNull(s string) *string {
	if s == "" {
		return nil
	}
	return &s
}
