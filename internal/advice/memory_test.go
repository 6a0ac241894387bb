package advice

import (
	"context"
	"errors"
	"reflect"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/quote"
	"kinwain/internal/store"
)

// TestForgetsWhatWasAskedLeastLately fills a small memory.
func TestForgetsWhatWasAskedLeastLately(t *testing.T) {
	m := newMemory(100)
	at := func(what string) key { return key{what: what} }
	for _, what := range []string{"a", "b", "c"} {
		m.keep(at(what), remembered{value: what, bytes: 30})
	}
	if _, found := m.recall(at("a")); !found {
		t.Error("a is forgotten while there is room")
	}
	m.keep(at("d"), remembered{bytes: 40}) // b goes
	m.keep(at("d"), remembered{bytes: 30}) // in its own place
	m.keep(at("whale"), remembered{bytes: 101})
	for what, want := range map[string]bool{"a": true, "b": false, "c": true, "d": true, "whale": false} {
		if _, found := m.recall(at(what)); found != want {
			t.Errorf("%s is kept: %v", what, found)
		}
	}
	if m.bytes != 90 {
		t.Errorf("%d bytes, want 90", m.bytes)
	}
	m.forget()
	if m.bytes != 0 || m.kept.Len() != 0 {
		t.Errorf("%d bytes and %d answers are left", m.bytes, m.kept.Len())
	}
}

// TestOnce has many ask for the same while it is worked out. The first goes
// away, and the others have the answer.
func TestOnce(t *testing.T) {
	m := newMemory(100)
	var worked atomic.Int32
	began, finish := make(chan bool), make(chan bool)
	work := func(ctx context.Context) (any, error) {
		worked.Add(1)
		close(began)
		select {
		case <-finish:
			return "answer", nil
		case <-ctx.Done():
			return nil, ctx.Err()
		}
	}
	first, goAway := context.WithCancel(t.Context())
	gone := make(chan error)
	go func() {
		_, err := m.once(first, "it", work)
		gone <- err
	}()
	<-began
	var others sync.WaitGroup
	for range 8 {
		others.Go(func() {
			if got, err := m.once(t.Context(), "it", work); got != "answer" || err != nil {
				t.Errorf("%v, %v", got, err)
			}
		})
	}
	for waiting := 0; waiting < 9; time.Sleep(time.Millisecond) {
		m.mu.Lock()
		waiting = m.asking["it"].people
		m.mu.Unlock()
	}
	goAway()
	if err := <-gone; !errors.Is(err, context.Canceled) {
		t.Errorf("who went away got %v", err)
	}
	close(finish)
	others.Wait()
	if n := worked.Load(); n != 1 || len(m.asking) != 0 {
		t.Errorf("worked %d times, %d are waiting", n, len(m.asking))
	}
}

// TestNobodyWaits ends the work with the last who asks for it, and whoever
// comes then has it done anew.
func TestNobodyWaits(t *testing.T) {
	m := newMemory(100)
	ctx, goAway := context.WithCancel(t.Context())
	stopped := make(chan bool)
	_, err := m.once(ctx, "it", func(ctx context.Context) (any, error) {
		goAway()
		<-ctx.Done()
		close(stopped)
		return nil, ctx.Err()
	})
	if !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
	<-stopped
	if got, err := m.once(t.Context(), "it", func(context.Context) (any, error) { return 1, nil }); got != 1 || err != nil {
		t.Errorf("asked anew: %v, %v", got, err)
	}
	_, err = m.once(t.Context(), "it", func(context.Context) (any, error) { panic("torn") })
	if err == nil || !strings.Contains(err.Error(), "torn") {
		t.Errorf("what panics is %v", err)
	}
}

// versioned is a store in memory of which the test says the version.
type versioned struct {
	kept
	version, reads int
}

func (v *versioned) Version(context.Context) (string, error) {
	return strconv.Itoa(v.version), v.fail("version")
}

func (v *versioned) Catalogue(ctx context.Context) (*catalog.Catalogue, error) {
	v.reads++
	return v.kept.Catalogue(ctx)
}

// TestAdvisor gives the same shop until anything that it follows from changes.
func TestAdvisor(t *testing.T) {
	k := &versioned{kept: kept{catalogue: demo(t), retired: map[store.Thing]bool{}, settings: map[string]int64{}}}
	a := NewAdvisor(k)
	on := func() *Shop {
		t.Helper()
		shop, err := a.On(t.Context(), today)
		if err != nil {
			t.Fatal(err)
		}
		return shop
	}
	first := on()
	if on() != first || k.reads != 1 {
		t.Errorf("read %d times though nothing changed", k.reads)
	}
	if k.version++; on() != first || k.reads != 2 {
		t.Error("another shop after a change that is none of its business")
	}
	p := customer(t)
	if _, err := first.Rank(t.Context(), p, match.Options{}); err != nil || a.memory.bytes == 0 {
		t.Fatalf("nothing is remembered, %v", err)
	}
	last := first
	for what, change := range map[string]func(){
		"the settings":    func() { k.settings = map[string]int64{"clothing_g": 2000} },
		"what is retired": func() { k.retired = map[store.Thing]bool{{List: "frames", Code: "sedge"}: true} },
		"the catalogue":   func() { k.catalogue = demo(t) },
		"what is held":    func() { k.held = []quote.Reservation{{Unit: k.catalogue.Units[0].Tag, Until: today}} },
	} {
		change()
		k.version++
		now := on()
		if now == last || now.of == last.of || a.memory.bytes != 0 {
			t.Errorf("the same shop after a change of %s, with %d bytes remembered", what, a.memory.bytes)
		}
		if _, err := now.Rank(t.Context(), p, match.Options{}); err != nil {
			t.Fatal(err)
		}
		last = now
	}
	if tomorrow, err := a.On(t.Context(), quote.After(today, 1)); err != nil || tomorrow == last {
		t.Errorf("the same shop on another day, %v", err)
	}
	k.fails = "version"
	if _, err := a.On(t.Context(), today); err == nil {
		t.Error("a store that cannot be read is no shop")
	}
}

// TestWith holds that other settings have other answers, and remember them.
func TestWith(t *testing.T) {
	shop := remembering(t)
	settings := match.DefaultSettings()
	settings.Clothing *= 9
	other, err := shop.With(settings)
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range []*Shop{shop, other, shop, other} {
		got, err := s.Rank(t.Context(), customer(t), match.Options{})
		if err != nil {
			t.Fatal(err)
		}
		want, err := (&Shop{Catalogue: s.Catalogue, Settings: s.Settings}).Rank(t.Context(), customer(t), match.Options{})
		if err != nil {
			t.Fatal(err)
		}
		same(t, "with other settings", got, want)
	}
}

// TestEveryQuestionIsRemembered asks each twice: the second time it is the very
// answer of the first.
func TestEveryQuestionIsRemembered(t *testing.T) {
	shop, p := remembering(t), customer(t)
	f := &shop.Catalogue.Frames[0]
	for what, ask := range map[string]func() ([]*match.Match, error){
		"ranking": func() ([]*match.Match, error) {
			return shop.Rank(t.Context(), p, match.Options{Changes: true, Stages: true})
		},
		"alternatives": func() ([]*match.Match, error) { return shop.Alternatives(t.Context(), f, p) },
		"best": func() ([]*match.Match, error) {
			m, err := shop.Best(t.Context(), f, p, match.Options{})
			return []*match.Match{m}, err
		},
		"by hand": func() ([]*match.Match, error) {
			m, err := shop.ByHand(t.Context(), f, p, f.ComesWith)
			return []*match.Match{m}, err
		},
		"demos": func() ([]*match.Match, error) {
			demos, err := shop.Demos(t.Context(), f.Code, p)
			var list []*match.Match
			for i := range demos {
				list = append(list, demos[i].Match)
			}
			return list, err
		},
	} {
		first, err := ask()
		if err != nil || len(first) == 0 {
			t.Fatalf("%s: %d answers, %v", what, len(first), err)
		}
		second, err := ask()
		if err != nil || !reflect.DeepEqual(first, second) {
			t.Fatalf("%s: other answers, %v", what, err)
		}
		for i := range first {
			if first[i] != second[i] {
				t.Errorf("%s: %s was judged again", what, first[i].Frame.Code)
			}
		}
	}
}

// TestSize holds what is said of the size of a match against all that hangs on
// it, but for the catalogue.
func TestSize(t *testing.T) {
	shop := remembering(t)
	for name, document := range customers(t) {
		ranked, err := shop.Rank(t.Context(), parsed(t, document), match.Options{Changes: true, Stages: true})
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range ranked {
			real, said := weigh(reflect.ValueOf(m), map[uintptr]bool{}), size(m)
			if said < real || said > 4*real {
				t.Errorf("%s, %s: %d bytes are said of %d", name, m.Frame.Code, said, real)
			}
		}
	}
}

// weigh counts the bytes behind a value. Text and what is of the catalogue are
// shared with it, and so are sentences of the program.
func weigh(v reflect.Value, seen map[uintptr]bool) int {
	switch v.Kind() {
	case reflect.Pointer:
		if v.IsNil() || seen[v.Pointer()] || strings.Contains(v.Type().String(), "catalog.") {
			return 0
		}
		seen[v.Pointer()] = true
		return int(v.Type().Elem().Size()) + weigh(v.Elem(), seen)
	case reflect.Interface:
		if v.IsNil() {
			return 0
		}
		return int(v.Elem().Type().Size()) + weigh(v.Elem(), seen)
	case reflect.Slice:
		if v.Len() == 0 || seen[v.Pointer()] {
			return 0
		}
		seen[v.Pointer()] = true
		sum := v.Cap() * int(v.Type().Elem().Size())
		for i := range v.Len() {
			sum += weigh(v.Index(i), seen)
		}
		return sum
	case reflect.Struct:
		if strings.HasPrefix(v.Type().String(), "catalog.") {
			return 0
		}
		sum := 0
		for i := range v.NumField() {
			sum += weigh(v.Field(i), seen)
		}
		return sum
	}
	return 0
}

// TestRemember reads a text once, another one by itself, and one that cannot be
// read again and again.
func TestRemember(t *testing.T) {
	a := NewAdvisor(nil)
	reads := 0
	read := func(text string) (string, error) {
		return Remember(t.Context(), a, "text", 10, func() (string, error) {
			if reads++; text == "torn" {
				return "", errors.New("torn")
			}
			return text + " read", nil
		}, []byte(text), nil)
	}
	for i, want := range []int{1, 1, 2} {
		text := [...]string{"a", "a", "b"}[i]
		if got, err := read(text); got != text+" read" || err != nil || reads != want {
			t.Errorf("%q, %v, after %d reads", got, err, reads)
		}
	}
	for range 2 {
		if _, err := read("torn"); err == nil {
			t.Error("what cannot be read is read")
		}
	}
	if reads != 4 || a.memory.bytes != 20 {
		t.Errorf("%d reads, %d bytes", reads, a.memory.bytes)
	}
}
