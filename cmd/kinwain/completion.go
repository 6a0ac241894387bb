package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"slices"
	"strings"
)

// shells are those that can be told how to complete a command line, with what
// tells them.
var shells = map[string]func([]completed) string{"bash": bashCompletion, "zsh": zshCompletion, "fish": fishCompletion}

// completionCommand writes what a shell has to be told.
func completionCommand(_ context.Context, p *program, args []string) error {
	f := p.flags("completion")
	if err := p.parse(f, args, 1, 1); err != nil {
		return err
	}
	script := shells[f.Arg(0)]
	if script == nil {
		fmt.Fprintf(p.err, "kinwain: nothing is known of the shell %q; bash, zsh and fish are\n", f.Arg(0))
		return errUsage
	}
	_, err := io.WriteString(p.out, script(completions()))
	return err
}

// completed is a command as a shell completes it.
type completed struct {
	name, does string
	operand    value
	flags      []option
}

// option is a flag with what may stand behind it; nothing does where it is
// only set.
type option struct {
	name, does string
	value      *value
}

// value is what may be written: one of some words, or else the name of a file
// or folder where it is one.
type value struct {
	called string
	words  []string
	files  bool
}

// valueCalled reads what a usage calls a value.
func valueCalled(name string) value {
	v := value{called: name, files: strings.Contains(name, "FILE") || strings.Contains(name, "FOLDER")}
	if !v.files && strings.Contains(name, "|") {
		v.words = strings.Split(name, "|")
	}
	return v
}

// completions asks every command for its flags.
func completions() []completed {
	var all []completed
	for _, c := range commands() {
		one := completed{name: c.name, does: c.does, operand: valueCalled(c.operands)}
		declared := func(f *flag.FlagSet) { one.flags = optionsOf(f) }
		_ = c.run(context.Background(), &program{out: io.Discard, err: io.Discard, declared: declared}, nil) // it does no more
		all = append(all, one)
	}
	return all
}

// optionsOf lists the flags of a command, and the one for help that all have.
func optionsOf(f *flag.FlagSet) []option {
	var all []option
	f.VisitAll(func(one *flag.Flag) {
		name, does := flag.UnquoteUsage(one)
		o := option{name: one.Name, does: does}
		if name != "" {
			v := valueCalled(name)
			o.value = &v
		}
		all = append(all, o)
	})
	return append(all, option{name: "h", does: "say how it is called"})
}

// names are those of the flags, with their dash.
func (c *completed) names() []string {
	all := make([]string, len(c.flags))
	for i, o := range c.flags {
		all[i] = "-" + o.name
	}
	return all
}

func namesOfAll(all []completed) []string {
	names := make([]string, len(all))
	for i, c := range all {
		names[i] = c.name
	}
	return names
}

// bashCompletion completes in bash. Where nothing is offered bash offers files.
func bashCompletion(all []completed) string {
	var b strings.Builder
	b.WriteString("# Completion of kinwain for bash: source <(kinwain completion bash)\n_kinwain() {\n" +
		"\tlocal word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD-1]} command=${COMP_WORDS[1]} offered=\n" +
		"\tcase $command in -*) command=serve ;; esac\n\tCOMPREPLY=()\n")
	fmt.Fprintf(&b, "\tif [ \"$COMP_CWORD\" -eq 1 ]; then\n\t\tcase $word in\n\t\t-*) offered=%s ;;\n\t\t*) offered=%s ;;\n\t\tesac\n",
		quoted(strings.Join(all[0].names(), " ")), quoted(strings.Join(namesOfAll(all), " ")))
	b.WriteString("\telse\n\t\tcase $command$before in\n")
	var free []string // what stands behind these is anybody's
	for _, c := range all {
		for _, o := range c.flags {
			switch {
			case o.value == nil:
			case len(o.value.words) > 0:
				fmt.Fprintf(&b, "\t\t%s-%s) offered=%s ;;\n", c.name, o.name, quoted(strings.Join(o.value.words, " ")))
			default:
				free = append(free, c.name+"-"+o.name)
			}
		}
	}
	fmt.Fprintf(&b, "\t\t%s) ;;\n", strings.Join(free, "|"))
	b.WriteString("\t\t*)\n\t\t\tcase $command$word in\n")
	for _, c := range all {
		fmt.Fprintf(&b, "\t\t\t%s-*) offered=%s ;;\n", c.name, quoted(strings.Join(c.names(), " ")))
		if len(c.operand.words) > 0 {
			fmt.Fprintf(&b, "\t\t\t%s*) offered=%s ;;\n", c.name, quoted(strings.Join(c.operand.words, " ")))
		}
	}
	b.WriteString("\t\t\tesac\n\t\t\t;;\n\t\tesac\n\tfi\n\tif [ -n \"$offered\" ]; then\n\t\tCOMPREPLY=($(compgen -W \"$offered\" -- \"$word\"))\n\tfi\n}\ncomplete -o bashdefault -o default -F _kinwain kinwain\n")
	return b.String()
}

// zshCompletion completes in zsh, with what each flag does.
func zshCompletion(all []completed) string {
	var b strings.Builder
	b.WriteString("#compdef kinwain\n# Completion of kinwain for zsh: put it as _kinwain into a folder of $fpath.\n_kinwain() {\n\tlocal -a offered\n\toffered=(\n")
	for _, c := range all {
		fmt.Fprintf(&b, "\t\t%s\n", quoted(c.name+":"+c.does))
	}
	b.WriteString("\t)\n\tif (( CURRENT == 2 )) && [[ $words[2] != -* ]]; then\n\t\t_describe command offered\n\t\treturn\n\tfi\n" +
		"\tlocal command=$words[2]\n\tif [[ $command == -* ]]; then\n\t\tcommand=serve\n\telse\n\t\tshift words\n\t\t(( CURRENT-- ))\n\tfi\n\tcase $command in\n")
	for _, c := range all {
		fmt.Fprintf(&b, "\t%s) _arguments", c.name)
		for _, o := range c.flags {
			spec := "-" + o.name + "[" + zshText.Replace(o.does) + "]"
			if o.value != nil {
				spec += zshValue(*o.value)
			}
			fmt.Fprintf(&b, " \\\n\t\t%s", quoted(spec))
		}
		if c.operand.called != "" {
			fmt.Fprintf(&b, " \\\n\t\t%s", quoted("*"+zshValue(c.operand)))
		}
		b.WriteString(" ;;\n")
	}
	b.WriteString("\tesac\n}\nif [ \"$funcstack[1]\" = _kinwain ]; then\n\t_kinwain \"$@\"\nelse\n\tcompdef _kinwain kinwain\nfi\n")
	return b.String()
}

var zshText = strings.NewReplacer("[", `\[`, "]", `\]`, ":", `\:`)

func zshValue(v value) string {
	called := ":" + zshText.Replace(v.called) + ":"
	switch {
	case v.files:
		return called + "_files"
	case len(v.words) > 0:
		return called + "(" + strings.Join(v.words, " ") + ")"
	}
	return called + " "
}

// fishCompletion completes in fish, with what each flag does.
func fishCompletion(all []completed) string {
	var b strings.Builder
	b.WriteString("# Completion of kinwain for fish: kinwain completion fish > ~/.config/fish/completions/kinwain.fish\ncomplete -c kinwain -f\n")
	for _, c := range all {
		fmt.Fprintf(&b, "complete -c kinwain -n __fish_use_subcommand -a %s -d %s\n", c.name, fishQuoted(c.does))
	}
	others := slices.DeleteFunc(namesOfAll(all), func(name string) bool { return name == all[0].name })
	for _, c := range all {
		when := "__fish_seen_subcommand_from " + c.name
		if c.name == all[0].name { // which needs no name
			when = "not __fish_seen_subcommand_from " + strings.Join(others, " ")
		}
		for _, o := range c.flags {
			fmt.Fprintf(&b, "complete -c kinwain -n %s -o %s -d %s%s\n", fishQuoted(when), o.name, fishQuoted(o.does), fishValue(o.value))
		}
		if c.operand.called != "" {
			fmt.Fprintf(&b, "complete -c kinwain -n %s%s\n", fishQuoted("__fish_seen_subcommand_from "+c.name), strings.Replace(fishValue(&c.operand), " -r", "", 1))
		}
	}
	return b.String()
}

func fishValue(v *value) string {
	switch {
	case v == nil:
		return ""
	case v.files:
		return " -r -F"
	case len(v.words) > 0:
		return " -r -f -a " + fishQuoted(strings.Join(v.words, " "))
	}
	return " -r -f"
}

// quoted writes a text as one word of a shell.
func quoted(s string) string { return "'" + strings.ReplaceAll(s, "'", `'\''`) + "'" }

// fishQuoted does so for fish.
func fishQuoted(s string) string {
	return "'" + strings.NewReplacer(`\`, `\\`, "'", `\'`).Replace(s) + "'"
}
