package main

import (
	"context"
	"crypto/rand"
	"fmt"
	"os"
	"strings"
	"time"

	"rsc.io/qr"

	"kinwain/internal/store"
)

// linkLife is how long a printed link works, if nobody uses it before.
const linkLife = 24 * time.Hour

// welcome says that the app is ready, with a link to sign in where nobody could
// otherwise, or where somebody asks for one.
func (p *program) welcome(ctx context.Context, s *store.Store, base string, asked bool) error {
	manager, err := s.HasManager(ctx)
	if err != nil {
		return err
	}
	if manager && !asked {
		if err := s.VoidSignInLink(ctx); err != nil {
			return err
		}
		fmt.Fprintf(p.out, "Kinwain is ready at %s\n\nManagers sign in by name; -sign-in-link prints a link, should all have forgotten how.\n\nStop it with Ctrl-C.\n", base)
		return nil
	}
	link, err := signInLink(ctx, s, base)
	if err != nil {
		return err
	}
	code := ""
	if f, is := p.out.(*os.File); is && isTerminal(f) {
		if code, err = codeInText(link); err != nil {
			return err
		}
	}
	fmt.Fprintf(p.out, "Kinwain is ready. Open this link to sign in as the manager; it works once:\n\n  %s\n\n%sStop it with Ctrl-C.\n", link, code)
	return nil
}

func signInLink(ctx context.Context, s *store.Store, base string) (string, error) {
	token := rand.Text()
	if err := s.ReplaceSignInLink(ctx, token, time.Now().Add(linkLife)); err != nil {
		return "", err
	}
	return base + "/sign-in/" + token, nil
}

// isTerminal reports whether somebody reads a file as it is written.
func isTerminal(f *os.File) bool {
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}

// quiet is the empty margin that a code needs round it, in modules (ISO/IEC
// 18004).
const quiet = 4

// codeInText draws a text as a QR code in the letters of a terminal, two rows
// of modules to a line, black on white whatever the colours there are.
func codeInText(text string) (string, error) {
	code, err := qr.Encode(text, qr.L)
	if err != nil {
		return "", fmt.Errorf("draw a code of %d letters: %w", len(text), err)
	}
	const blackOnWhite, asBefore = "\x1b[30;107m", "\x1b[0m"
	shapes := map[[2]bool]rune{{false, false}: ' ', {true, false}: '▀', {false, true}: '▄', {true, true}: '█'}
	var b strings.Builder
	for y := -quiet; y < code.Size+quiet; y += 2 {
		b.WriteString("  " + blackOnWhite)
		for x := -quiet; x < code.Size+quiet; x++ {
			b.WriteRune(shapes[[2]bool{code.Black(x, y), code.Black(x, y+1)}])
		}
		b.WriteString(asBefore + "\n")
	}
	b.WriteString("\n")
	return b.String(), nil
}
