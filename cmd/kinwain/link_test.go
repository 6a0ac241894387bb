package main

import (
	"bufio"
	"image"
	"image/color"
	"net"
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"

	"kinwain/internal/staff"
	"kinwain/internal/store"
)

func mustParse(t *testing.T, address string) *url.URL {
	t.Helper()
	u, err := url.Parse(address)
	if err != nil {
		t.Fatal(err)
	}
	return u
}

// TestLinkIsPrintedWhereNobodyElseGetsIn starts with and without a manager who
// has an account, and asks for a link.
func TestLinkIsPrintedWhereNobodyElseGetsIn(t *testing.T) {
	t.Parallel()
	dir := demoShop.New(t)
	first := start(t, dir)
	first.stop() // nobody used it
	s, err := store.Open(t.Context(), dir)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.AddManager(t.Context(), "Ansa", staff.Hash("tide tables and teasel"), time.Now()); err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	again := start(t, dir, "-sign-in-link")
	again.stop()
	silent := startUntil(t, dir, func(a *app) bool { return strings.Contains(a.stdout.String(), "Ctrl-C") }, "-log-level", "ERROR")
	if out := silent.stdout.String(); strings.Contains(out, "/sign-in/") || !strings.Contains(out, "-sign-in-link") {
		t.Errorf("printed: %s", out)
	}
	silent.base = "http" + strings.Split(strings.SplitN(silent.stdout.String(), "http", 2)[1], "\n")[0]
	for _, old := range []string{first.link, again.link} {
		if response, _ := silent.post("/sign-in/"+old[strings.LastIndex(old, "/")+1:], formType, ""); response.StatusCode != http.StatusNotFound {
			t.Errorf("a link of before: %d", response.StatusCode)
		}
	}
	silent.stop()
}

// TestCodeInText reads the code of a terminal as a phone does.
func TestCodeInText(t *testing.T) {
	t.Parallel()
	const link = "https://bikes.example/sign-in/ABCDEFGHIJKLMNOPQRSTUVWXYZ"
	drawn, err := codeInText(link)
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimRight(drawn, "\n"), "\n")
	const scale = 8
	img := image.NewGray(image.Rect(0, 0, 200*scale, 2*len(lines)*scale))
	for i := range img.Pix {
		img.Pix[i] = 255
	}
	for y, line := range lines {
		line, found := strings.CutPrefix(line, "  \x1b[30;107m")
		if !found || !strings.HasSuffix(line, "\x1b[0m") {
			t.Fatalf("the line %q is not black on white", line)
		}
		for x, shape := range []rune(strings.TrimSuffix(line, "\x1b[0m")) {
			for half, dark := range [2]bool{shape == '▀' || shape == '█', shape == '▄' || shape == '█'} {
				for p := range scale * scale {
					if dark {
						img.SetGray(x*scale+p%scale, (2*y+half)*scale+p/scale, color.Gray{})
					}
				}
			}
		}
	}
	bitmap, err := gozxing.NewBinaryBitmapFromImage(img)
	if err != nil {
		t.Fatal(err)
	}
	read, err := qrcode.NewQRCodeReader().Decode(bitmap, nil)
	if err != nil || read.GetText() != link {
		t.Errorf("read %v, %v", read, err)
	}
}

// TestEndCutsOff ends the program while somebody sends a request that never
// ends.
func TestEndCutsOff(t *testing.T) {
	t.Parallel()
	a := start(t, demoShop.New(t))
	c, err := net.Dial("tcp", strings.TrimPrefix(a.base, "http://"))
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close() // it is cut off
	if _, err := c.Write([]byte("POST /sign-in HTTP/1.1\r\nHost: x\r\nContent-Type: " + formType + "\r\nExpect: 100-continue\r\nContent-Length: 100\r\n\r\nname=")); err != nil {
		t.Fatal(err)
	}
	if line, err := bufio.NewReader(c).ReadString('\n'); err != nil || !strings.HasPrefix(line, "HTTP/1.1 100") { // it is reading by now
		t.Fatalf("%q, %v", line, err)
	}
	began := time.Now()
	a.cancel()
	select {
	case status := <-a.ended:
		if took := time.Since(began); status != 1 || took > longestEnd || !strings.Contains(a.stderr.String(), "cut off") {
			t.Errorf("%d after %v: %s", status, took, &a.stderr)
		}
	case <-time.After(longestEnd):
		t.Error("does not end")
	}
}
