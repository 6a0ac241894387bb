package browser_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// hand does a task as people do who have a keyboard alone or a finger alone,
// and counts what it takes.
type hand struct {
	*tab
	touches bool
	// fields are those that are filled in; presses are those of a button, a
	// link, a box, or Enter.
	fields, presses int
	// way is how far apart they are: how often Tab or a letter is pressed to
	// get there, or by how many screens a finger pushes the page on.
	way int
}

// spot is where a finger touches something.
type spot struct {
	X, Y    float64
	Screens int
	Under   string // what it would touch in place of it
}

// aim brings the middle of what a selector finds into sight, as far as it is
// not, and says where that is. A box is touched by its label.
const aim = `(() => {
	const e = document.querySelector(%q), t = e?.matches("[type=checkbox], [type=radio]") ? e.closest("label") ?? e : e;
	if (!t) return { Under: "nothing: there is none" };
	const at = () => { const r = t.getBoundingClientRect(); return [r.left + r.width / 2, r.top + r.height / 2]; };
	const hit = ([x, y]) => { const on = document.elementFromPoint(x, y); return on && (t === on || t.contains(on)); };
	let [x, y] = at(), screens = 0;
	if (!hit([x, y])) {
		screens = Math.max(1, Math.ceil(Math.abs(y - innerHeight / 2) / (0.8 * innerHeight)));
		t.scrollIntoView({ block: "center", inline: "center", behavior: "instant" });
		[x, y] = at();
	}
	return { X: x, Y: y, Screens: screens, Under: hit([x, y]) ? "" : document.elementFromPoint(x, y)?.outerHTML.slice(0, 80) ?? "nothing" };
})()`

// to goes to something: with the tab key, or with a finger that touches it.
func (h *hand) to(selector string) {
	h.Helper()
	if h.touches {
		at := evaluate[spot](h.tab, fmt.Sprintf(aim, selector))
		if at.Under != "" {
			h.Fatalf("a finger that means %s touches %s\n%s", selector, at.Under, h.describe())
		}
		h.way += at.Screens
		h.do(chromedp.TapXY(at.X, at.Y))
		return
	}
	is := fmt.Sprintf(`document.activeElement.matches(%q)`, selector)
	tab := chromedp.KeyEvent(kb.Tab)
	if evaluate[bool](h.tab, fmt.Sprintf(`document.activeElement !== document.body && Boolean(document.querySelector(%q)?.compareDocumentPosition(document.activeElement) & Node.DOCUMENT_POSITION_FOLLOWING)`, selector)) {
		tab = chromedp.KeyEvent(kb.Tab, chromedp.KeyModifiers(chromedp.ModifierShift)) // it is behind
	}
	for range 200 {
		if evaluate[bool](h.tab, is) {
			return
		}
		h.do(tab)
		h.way++
	}
	h.Fatalf("Tab never reaches %s\n%s", selector, h.describe())
}

// below goes down a column that is typed in place: with the arrow, or with a
// finger.
func (h *hand) below(selector string) {
	h.Helper()
	for range 100 {
		if h.touches || evaluate[bool](h.tab, fmt.Sprintf(`document.activeElement.matches(%q)`, selector)) {
			return
		}
		h.do(chromedp.KeyEvent(kb.ArrowDown))
		h.way++
	}
	h.Fatalf("the arrow never reaches %s\n%s", selector, h.describe())
}

// fill types into a field, over what is there.
func (h *hand) fill(selector, text string) {
	h.Helper()
	h.to(selector)
	h.until(fmt.Sprintf(`document.activeElement.matches(%q)`, selector))
	h.fields++
	h.keys(text)
}

// paste puts many lines into a field.
func (h *hand) paste(selector, text string) {
	h.Helper()
	h.to(selector)
	h.until(fmt.Sprintf(`document.activeElement.matches(%q)`, selector))
	h.fields++
	evaluate[chromedp.Void](h.tab, fmt.Sprintf(`{ const e = document.activeElement; e.setRangeText(%q); e.dispatchEvent(new Event("input", { bubbles: true })); }`, text))
}

// pick chooses a word: by its first letter until it is there, or with a finger
// in the browser's own list, which takes none here.
func (h *hand) pick(selector, value string) {
	h.Helper()
	h.fields++
	is := fmt.Sprintf(`document.querySelector(%q).value === %q`, selector, value)
	if h.touches {
		at := evaluate[spot](h.tab, fmt.Sprintf(aim, selector))
		if at.Under != "" {
			h.Fatalf("a finger that means %s touches %s", selector, at.Under)
		}
		h.way += at.Screens
		evaluate[chromedp.Void](h.tab, fmt.Sprintf(`{ const s = document.querySelector(%q); s.value = %q; for (const e of ["input", "change"]) s.dispatchEvent(new Event(e, { bubbles: true })); }`, selector, value))
	} else {
		h.to(selector)
		letter := evaluate[string](h.tab, fmt.Sprintf(`[...document.querySelector(%q).options].find((o) => o.value === %q)?.label[0] ?? ""`, selector, value))
		for range 20 {
			if evaluate[bool](h.tab, is) {
				break
			}
			h.do(chromedp.KeyEvent(letter))
			h.way++
		}
	}
	if !evaluate[bool](h.tab, is) {
		h.Fatalf("%s does not take %q", selector, value)
	}
}

// press presses a button, follows a link, or ticks a box.
func (h *hand) press(selector string) {
	h.Helper()
	h.presses++
	h.to(selector)
	if !h.touches {
		key := kb.Enter
		if evaluate[bool](h.tab, `document.activeElement.matches("[type=checkbox], [type=radio]")`) {
			key = " "
		}
		h.do(chromedp.KeyEvent(key))
	}
}

// goes presses something that leads to another page.
func (h *hand) goes(selector string) {
	h.Helper()
	evaluate[chromedp.Void](h.tab, `window.before = true`)
	h.press(selector)
	h.until(`window.before === undefined`)
}

// sends sends the form of the field that was filled in last: by Enter, or with
// a finger on its button.
func (h *hand) sends(button string) {
	h.Helper()
	if h.touches {
		h.goes(button)
		return
	}
	for evaluate[bool](h.tab, `document.activeElement.matches("select, [type=file]")`) { // it keeps Enter to itself, as the choice of a photo after it does
		h.do(chromedp.KeyEvent(kb.Tab))
		h.way++
	}
	h.presses++
	h.enter()
}

// done waits until the page says what came of it, and says yes to what it asks
// before: whom it concerns, and whether a tag is right.
func (h *hand) done(words string) {
	h.Helper()
	for range 3 {
		h.until(`document.querySelector(".done, .clashes .primary, .consequences ~ .send .primary, .file-faults, .alert")`)
		switch {
		case evaluate[bool](h.tab, `Boolean(document.querySelector(".clashes .primary"))`):
			h.goes(".clashes .primary")
		case evaluate[bool](h.tab, `Boolean(document.querySelector(".consequences ~ .send .primary"))`):
			h.goes(".consequences ~ .send .primary")
		default:
			if said := h.words(".done"); !strings.Contains(said, words) {
				h.Fatalf("it says %q\n%s", said, h.describe())
			}
			return
		}
	}
	h.Fatalf("it asks too often\n%s", h.describe())
}

// upload chooses a file in the browser's own window, which neither hand gets
// into here.
func (h *hand) upload(selector, name, data string) {
	h.Helper()
	file := filepath.Join(h.TempDir(), name)
	if err := os.WriteFile(file, []byte(data), 0o600); err != nil {
		h.Fatal(err)
	}
	h.fields++
	h.do(chromedp.SetUploadFiles(selector, []string{file}))
}
