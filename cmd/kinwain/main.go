// Kinwain matches load-carrying bikes to the people who will ride them, what
// they will carry and where the bike will live.
//
// Without a sub-command it serves the app. Exit status: 0 done, 1 the work
// failed and one line says why, 2 wrong usage.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"
	"runtime/debug"
	"strings"
	"syscall"
	"time"
)

// command is one sub-command. Run declares its own flags, and reads them with
// program.parse.
type command struct {
	name, operands, does string

	run func(ctx context.Context, p *program, args []string) error
}

// commands is the table of all of them: the usage and the completion of shells
// are made from it.
func commands() []command {
	return []command{
		{"serve", "", "the app (the default)", serve},
		{"match", "", "rank frames for a profile document, as JSON", matchCommand},
		{"import", "FILE...", "replace the catalogue, from JSON or a spreadsheet", importCommand},
		{"export", "[FOLDER or FILE.zip, for csv; FILE.xlsx, for xlsx]", "write the catalogue as JSON or for a spreadsheet", exportCommand},
		{"backup", "FILE", "copy the store into a new file", backupCommand},
		{"restore", "FILE", "put a backup in place of the store", restoreCommand},
		{versionFlag, "", "which program this is", versionCommand},
		{"completion", "bash|zsh|fish", "what makes a shell complete these commands", completionCommand},
	}
}

// program is how a command reaches the world.
type program struct {
	in       io.Reader // a terminal with somebody at it; nil where there is none
	out, err io.Writer
	// declared takes the flags of a command in place of carrying it out.
	declared func(f *flag.FlagSet)
}

// errUsage says that the command was called wrongly; the flags have said how.
var errUsage = errors.New("wrong usage")

// relaxed is how much more garbage than what is kept may lie about, in per cent.
// A ranking makes much and keeps little: a shop's computer has the memory for
// it, and the processors have other things to do. What GOGC says goes first.
const relaxed = 300

// longestEnd is how long ending may take, come what may.
const longestEnd = 10 * time.Second

func main() {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(relaxed)
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	go func() {
		<-ctx.Done()
		stop() // a second Ctrl-C ends it at once
		time.Sleep(longestEnd)
		fmt.Fprintln(os.Stderr, "kinwain: ended without waiting any longer")
		os.Exit(1)
	}()
	os.Exit(run(ctx, &program{in: terminal(os.Stdin), out: os.Stdout, err: os.Stderr}, os.Args[1:]))
}

// terminal returns the file where it is a terminal, and else nothing.
func terminal(f *os.File) io.Reader {
	if info, err := f.Stat(); err == nil && info.Mode()&os.ModeCharDevice != 0 {
		return f
	}
	return nil
}

// run carries out a command line and returns the exit status.
func run(ctx context.Context, p *program, args []string) int {
	err := dispatch(ctx, p, args)
	switch {
	case err == nil || errors.Is(err, flag.ErrHelp):
		return 0
	case errors.Is(err, errUsage):
		return 2
	}
	fmt.Fprintln(p.err, "kinwain:", err)
	return 1
}

func dispatch(ctx context.Context, p *program, args []string) error {
	if len(args) > 0 && (args[0] == "-"+versionFlag || args[0] == "--"+versionFlag) {
		return versionCommand(ctx, p, args[1:])
	}
	if len(args) == 0 || strings.HasPrefix(args[0], "-") {
		return serve(ctx, p, args)
	}
	for _, c := range commands() {
		if c.name == args[0] {
			return c.run(ctx, p, args[1:])
		}
	}
	fmt.Fprintf(p.err, "kinwain: there is no command %q\n\n", args[0])
	p.usage()
	return errUsage
}

func (p *program) usage() {
	fmt.Fprintln(p.err, "Commands, each with -h for its flags:")
	for _, c := range commands() {
		fmt.Fprintf(p.err, "  kinwain %-10s %s\n", c.name, c.does)
	}
}

// flags returns an empty set of flags for a command.
func (p *program) flags(name string) *flag.FlagSet {
	var operands string
	for _, c := range commands() {
		if c.name == name {
			operands = c.operands
		}
	}
	f := flag.NewFlagSet(name, flag.ContinueOnError)
	f.SetOutput(p.err)
	f.Usage = func() {
		line := name
		f.VisitAll(func(*flag.Flag) { line = name + " [flags]" })
		fmt.Fprintf(p.err, "Usage: kinwain %s\n", strings.TrimSpace(line+" "+operands))
		f.PrintDefaults()
		if name == "serve" {
			p.usage()
		}
	}
	return f
}

// errDeclared ends a command of which nothing but the flags was asked for.
var errDeclared = errors.New("declared only")

// parse reads the flags and checks how many operands are left.
func (p *program) parse(f *flag.FlagSet, args []string, least, most int) error {
	if p.declared != nil {
		p.declared(f)
		return errDeclared
	}
	if err := f.Parse(args); err != nil {
		if errors.Is(err, flag.ErrHelp) {
			return err
		}
		return errUsage // the flags have printed what is wrong
	}
	if f.NArg() < least || f.NArg() > most {
		f.Usage()
		return errUsage
	}
	return nil
}

// dataFlag is the flag that every command on the store has.
func dataFlag(f *flag.FlagSet) *string {
	return f.String("data", "data", "the `FOLDER` of the store")
}
