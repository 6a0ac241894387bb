package web_test

import (
	"context"
	"flag"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
	"text/tabwriter"
	"time"

	"github.com/go-chi/chi/v5"

	"kinwain/internal/advice"
	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/profile"
	"kinwain/internal/wideshop"
	"kinwain/testdata"
	"kinwain/web/webtest"
)

var measured = flag.Int("measure", 0, "how many requests of each page to measure; none if 0")

// TestMeasure starts the app, and beside it a bare router that answers with the
// very bytes, asks the two in turn, and prints what each took. It never fails
// for being slow: what else the computer does shows in both columns alike.
func TestMeasure(t *testing.T) {
	if *measured == 0 {
		t.Skip("asked for by -measure 1000")
	}
	m := newMeter(t)
	out := tabwriter.NewWriter(os.Stdout, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(out, "page\tconnections\tours\tbare\ttimes\tp99\tbytes\t")
	for _, page := range m.pages {
		for _, connections := range [...]int{1, 8} {
			ours, bare := m.interleaved(page.path, connections)
			fmt.Fprintf(out, "%s\t%d\t%v\t%v\t%.1f\t%v\t%d\t\n", page.name, connections, at(ours, 50), at(bare, 50),
				float64(at(ours, 50))/float64(at(bare, 50)), at(ours, 99), page.bytes)
		}
	}
	m.flush(out)
	m.halfLoad(out)
	m.live(out)
	m.memory(out)
	cold(t, out)
	m.flush(out)
}

// meter is the app and the bare router.
type meter struct {
	*testing.T
	app, bare *httptest.Server
	in        *webtest.Visitor
	cookie    string
	client    *http.Client
	address   string // of a consultation
	pages     []measuredPage
}

type measuredPage struct {
	name, path string
	bytes      int
}

func newMeter(t *testing.T) *meter {
	s := webtest.Open(t)
	m := &meter{T: t, app: s.Server, in: s.Staff(),
		client: &http.Client{Transport: &http.Transport{DisableCompression: true, MaxIdleConnsPerHost: 16}}}
	m.address = m.in.Interview([]byte(webtest.Family))
	root, err := url.Parse(s.Server.URL)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range m.in.Client.Jar.Cookies(root) {
		m.cookie = c.String()
	}
	router := chi.NewRouter()
	for _, page := range []measuredPage{{name: "ranked page", path: m.address + "/frames"}, {name: "frame’s page", path: m.address + "/frames/osier-m"},
		{name: "form", path: m.address}, {name: "fit summary", path: m.in.SendHome(m.address, "osier-m", nil)}, {name: "start", path: "/"}} {
		m.pages = append(m.pages, m.copied(router, page))
	}
	m.bare = httptest.NewServer(router)
	t.Cleanup(m.bare.Close)
	return m
}

// copied makes the bare router answer as the app does.
func (m *meter) copied(router chi.Router, page measuredPage) measuredPage {
	m.request(m.app, page.path)
	r := m.asked(m.app, page.path)
	answer, err := m.client.Do(r)
	if err != nil {
		m.Fatal(err)
	}
	body, err := io.ReadAll(answer.Body)
	if err != nil || answer.StatusCode != http.StatusOK {
		m.Fatalf("%s: %d, %v", page.path, answer.StatusCode, err)
	}
	router.Get(page.path, func(w http.ResponseWriter, _ *http.Request) {
		for name, values := range answer.Header {
			w.Header()[name] = values
		}
		_, _ = w.Write(body) // to a client of this test
	})
	page.bytes = len(body)
	return page
}

func (m *meter) asked(s *httptest.Server, path string) *http.Request {
	r, err := http.NewRequestWithContext(m.Context(), http.MethodGet, s.URL+path, nil)
	if err != nil {
		m.Fatal(err)
	}
	r.Header.Set("Cookie", m.cookie)
	return r
}

// request asks for a page and returns how long the whole answer took.
func (m *meter) request(s *httptest.Server, path string) time.Duration {
	r := m.asked(s, path)
	began := time.Now()
	answer, err := m.client.Do(r)
	if err != nil {
		m.Error(err)
		return 0
	}
	_, err = io.Copy(io.Discard, answer.Body)
	took := time.Since(began)
	if err != nil || answer.StatusCode != http.StatusOK {
		m.Errorf("%s: %d, %v", path, answer.StatusCode, err)
	}
	_ = answer.Body.Close() // read to its end
	return took
}

// interleaved asks the app and the bare router in turn, over so many
// connections at a time.
func (m *meter) interleaved(path string, connections int) (ours, bare []time.Duration) {
	var mu sync.Mutex
	var all sync.WaitGroup
	for range connections {
		all.Go(func() {
			for range *measured / connections {
				a, b := m.request(m.app, path), m.request(m.bare, path)
				mu.Lock()
				ours, bare = append(ours, a), append(bare, b)
				mu.Unlock()
			}
		})
	}
	all.Wait()
	slices.Sort(ours)
	slices.Sort(bare)
	return ours, bare
}

// at is the time that so many of a hundred took at most.
func at(sorted []time.Duration, percent int) time.Duration {
	if len(sorted) == 0 {
		return 0
	}
	return sorted[min(len(sorted)*percent/100, len(sorted)-1)].Round(time.Microsecond)
}

// halfLoad asks for the ranked page half as often as it can be answered, from
// many who do not wait for one another.
func (m *meter) halfLoad(out io.Writer) {
	path := m.pages[0].path
	began := time.Now()
	m.interleavedApp(path, 8)
	gap := 2 * time.Since(began) / time.Duration(*measured)
	var mu sync.Mutex
	var all sync.WaitGroup
	var took []time.Duration
	for range *measured {
		all.Go(func() {
			d := m.request(m.app, path)
			mu.Lock()
			took = append(took, d)
			mu.Unlock()
		})
		time.Sleep(gap)
	}
	all.Wait()
	slices.Sort(took)
	fmt.Fprintf(out, "half load, %.0f a second: median %v, p99 %v, %.1f times\t\n", float64(time.Second)/float64(gap), at(took, 50), at(took, 99),
		float64(at(took, 99))/float64(at(took, 50)))
}

func (m *meter) interleavedApp(path string, connections int) {
	var all sync.WaitGroup
	for range connections {
		all.Go(func() {
			for range *measured / connections {
				m.request(m.app, path)
			}
		})
	}
	all.Wait()
}

// live changes one field over and over, to what it never was before, as the
// form does while somebody types, and measures the app by itself.
func (m *meter) live(out io.Writer) {
	f := m.in.Get(m.address).Form()
	for _, field := range [...]struct {
		name string
		from int
	}{{"riders[0].weight_kg", 60}, {"years", 1}, {"cargo_kg", 3}} {
		var took []time.Duration
		for i := range 30 {
			f.Set(field.name, strconv.Itoa(field.from+i%25)+map[bool]string{true: ".5"}[i >= 25 && field.name != "years"])
			r := httptest.NewRequest(http.MethodPost, m.address+"/live", nil)
			r.PostForm = f.Values
			r.Header.Set("Cookie", m.cookie)
			w := httptest.NewRecorder()
			began := time.Now()
			m.in.App.ServeHTTP(w, r)
			took = append(took, time.Since(began))
			if w.Code != http.StatusOK {
				m.Fatalf("%d: %.300s", w.Code, w.Body)
			}
			if _, told, ok := strings.Cut(w.Body.String(), `data-version="`); ok {
				f.Set("version", told[:strings.Index(told, `"`)])
			}
		}
		slices.Sort(took)
		fmt.Fprintf(out, "live, %s changed, saving to the disk included: median %v, p99 %v\t\n", field.name, at(took, 50), at(took, 99))
	}
}

// memory asks often, and looks at what is left.
func (m *meter) memory(out io.Writer) {
	held := func() uint64 {
		var s runtime.MemStats
		runtime.GC()
		runtime.GC() // what a pool holds goes at the second
		runtime.ReadMemStats(&s)
		return s.HeapAlloc >> 10
	}
	before := held()
	for range 5 {
		for _, page := range m.pages {
			m.interleavedApp(page.path, 8)
		}
		fmt.Fprintf(out, "memory after %d requests more: %d kB, %d before\t\n", 5**measured, held(), before)
	}
}

func (m *meter) flush(out *tabwriter.Writer) {
	if err := out.Flush(); err != nil {
		m.Fatal(err)
	}
}

// cold ranks frames for customers whom nobody has asked about before: in the demo
// shop, in a wide one that is the demo shop over and over, and in one in which no
// two frames are alike, so that nothing gains by what copies have in common.
func cold(t *testing.T, out io.Writer) {
	demo, err := catalog.Parse(testdata.Demo)
	if err != nil {
		t.Fatal(err)
	}
	wide, varied := wideshop.Of(demo, 1000, 5000), wideshop.Varied(demo, 1000, 5000)
	for _, c := range [...]*catalog.Catalogue{wide, varied} {
		if err := c.Check(); err != nil {
			t.Fatal(err)
		}
	}
	for name, document := range webtest.Customers(t) {
		p, err := profile.Parse(document)
		if err != nil {
			t.Fatal(err)
		}
		fmt.Fprintf(out, "cold, %s: %d frames %v, with changes %v; %d frames, copies %v, no two alike %v\t\n", name, len(demo.Frames),
			rankedIn(t, demo, p, match.Options{}, 5), rankedIn(t, demo, p, match.Options{Changes: true}, 5),
			len(wide.Frames), rankedIn(t, wide, p, match.Options{}, 3), rankedIn(t, varied, p, match.Options{}, 3))
	}
}

// rankedIn says what a ranking takes by the clock, and of all processors together,
// which what else the computer does disturbs less: of some times the least of each.
func rankedIn(t *testing.T, c *catalog.Catalogue, p *profile.Profile, o match.Options, times int) string {
	clock, busy := time.Hour, time.Hour
	shop := &advice.Shop{Catalogue: c, Settings: match.DefaultSettings()}
	for range times {
		began, before := time.Now(), processorTime(t)
		if _, err := shop.Rank(context.Background(), p, o); err != nil {
			t.Fatal(err)
		}
		clock, busy = min(clock, time.Since(began)), min(busy, processorTime(t)-before)
	}
	return fmt.Sprintf("%v (%v of processors)", clock.Round(10*time.Microsecond), busy.Round(10*time.Microsecond))
}

// processorTime is how long this program has been busy on all processors.
func processorTime(t *testing.T) time.Duration {
	var used syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &used); err != nil {
		t.Fatal(err)
	}
	return time.Duration(used.Utime.Nano() + used.Stime.Nano())
}
