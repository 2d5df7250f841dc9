package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"ahull/analysis"
)

func newMan() *cobra.Command {
	return &cobra.Command{
		Use:   "man",
		Short: "Print the manual page",
		Long: `Man prints the manual page of all commands, for the program man: save it as
ahull.1 in a folder man1 of the manual's path, or read it at once.`,
		Example: `  ahull man > ~/.local/share/man/man1/ahull.1
  ahull man | man -l -`,
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			return writeMan(cmd.OutOrStdout(), cmd.Root())
		},
	}
}

// writeMan writes the manual page in the macros of man(7), in ASCII.
func writeMan(w io.Writer, root *cobra.Command) error {
	var b strings.Builder
	fmt.Fprintf(&b, ".TH AHULL 1 \"\" \"ahull %s\" \"User Commands\"\n", analysis.Version)
	fmt.Fprintf(&b, ".SH NAME\nahull \\- %s\n", roff(lowerFirst(root.Short)))
	b.WriteString(".SH SYNOPSIS\n")
	for i, cmd := range manCommands(root) {
		if i > 0 {
			b.WriteString(".br\n")
		}
		name, args, _ := strings.Cut(cmd.Use, " ")
		fmt.Fprintf(&b, "\\fBahull %s\\fR %s\n", roff(name), roff(strings.TrimSpace(args+" [flags]")))
	}
	b.WriteString(".SH DESCRIPTION\n")
	manText(&b, root.Long)
	b.WriteString(".SH COMMANDS\n")
	for _, cmd := range manCommands(root) {
		manCommand(&b, cmd)
	}
	b.WriteString(".SH ENVIRONMENT\n")
	manTerm(&b, "NO_COLOR", "if set, nothing is coloured. Colours go to a terminal only, and say nothing that the words don't.")
	manTerm(&b, "TERM", "if dumb, nothing is coloured.")
	_, err := io.WriteString(w, b.String())
	return err
}

// manCommands are those of the program itself, without what cobra adds.
func manCommands(root *cobra.Command) []*cobra.Command {
	var out []*cobra.Command
	for _, cmd := range root.Commands() {
		if cmd.IsAvailableCommand() && cmd.Name() != "help" && cmd.Name() != "completion" {
			out = append(out, cmd)
		}
	}
	return out
}

func manCommand(b *strings.Builder, cmd *cobra.Command) {
	fmt.Fprintf(b, ".SS ahull %s\n", roff(cmd.Name()))
	manText(b, cmd.Long)
	cmd.LocalFlags().VisitAll(func(f *pflag.Flag) {
		if f.Name == "help" || f.Hidden {
			return
		}
		value, usage := pflag.UnquoteUsage(f)
		manTerm(b, strings.TrimSpace("--"+f.Name+" "+value), usage)
	})
	if cmd.Example != "" {
		b.WriteString(".PP\nFor example:\n")
		manText(b, cmd.Example)
	}
}

func manTerm(b *strings.Builder, term, text string) {
	fmt.Fprintf(b, ".TP\n\\fB%s\\fR\n%s\n", roff(term), roff(text))
}

// manText sets paragraphs; indented lines stay as they are.
func manText(b *strings.Builder, text string) {
	for _, paragraph := range strings.Split(strings.Trim(text, "\n"), "\n\n") {
		if strings.HasPrefix(paragraph, "  ") {
			fmt.Fprintf(b, ".PP\n.RS 2\n.nf\n%s\n.fi\n.RE\n", roff(strings.ReplaceAll("\n"+paragraph, "\n  ", "\n")[1:]))
			continue
		}
		fmt.Fprintf(b, ".PP\n%s\n", roff(paragraph))
	}
}

// roff makes plain text of it: no line begins a request, hyphens can be copied,
// and letters past ASCII are named by their number.
func roff(text string) string {
	var b strings.Builder
	start := true
	for _, r := range text {
		switch {
		case start && (r == '.' || r == '\''):
			b.WriteString(`\&` + string(r))
		case r == '\\':
			b.WriteString(`\e`)
		case r == '-':
			b.WriteString(`\-`)
		case r > '~':
			fmt.Fprintf(&b, `\[u%04X]`, r)
		default:
			b.WriteRune(r)
		}
		start = r == '\n'
	}
	return b.String()
}

func lowerFirst(s string) string { return strings.ToLower(s[:1]) + s[1:] }
