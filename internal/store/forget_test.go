package store

import (
	"bytes"
	"database/sql"
	"encoding/json"
	"os"
	"path/filepath"
	"testing"
	"time"

	"kinwain/internal/quote"
)

// Words that stand nowhere else, to be looked for in the files.
const (
	secretAnswer = "Quillfeather-answers"
	secretRider  = "Brackenmouse-rider"
)

// customerWithAll is a store with a consultation on which everything hangs.
func customerWithAll(t *testing.T) (s *Store, id string, link string) {
	t.Helper()
	s, other := counter(t)
	c, err := s.CreateConsultation(t.Context(), "", "Q.", []byte(`{"values": {"label": "`+secretAnswer+`"}}`), midday)
	if err != nil {
		t.Fatal(err)
	}
	link, err = s.IssueFitSummary(t.Context(), FitSummary{Consultation: c.ID, Frame: "sedge", Document: []byte(`{"of": "` + secretAnswer + `"}`), Created: midday, Expires: midday.Add(time.Hour)})
	if err != nil {
		t.Fatal(err)
	}
	judgedAgain(t, s, Mark{Consultation: c.ID, Frame: "sedge", Text: secretAnswer, Created: midday})
	r, err := s.BookRide(t.Context(), rideOn(c.ID, "D-011", midday.Add(time.Hour), time.Hour), midday)
	if err != nil {
		t.Fatal(err)
	}
	if err := s.SaveRide(t.Context(), r.ID, RideNotes{Rider: secretRider, Checks: []string{"helmet"}}, RideBooked, midday); err != nil {
		t.Fatal(err)
	}
	offer(t, s, other, "sedge", midday) // somebody else's, which stays
	return s, c.ID, link
}

func wantErased(t *testing.T, s *Store, id string) {
	t.Helper()
	_, err := s.Consultation(t.Context(), id)
	wantCode(t, err, NotFound)
	_, err = s.SaveConsultation(t.Context(), id, 1, "Q.", nil, midday)
	wantCode(t, err, NotFound)
	_, err = s.Dossier(t.Context(), id)
	wantCode(t, err, NotFound)
	recent, err := s.RecentConsultations(t.Context(), 10)
	for _, c := range recent {
		if c.ID == id {
			t.Error("it is still offered to go on with")
		}
	}
	marks, e2 := s.Marks(t.Context(), id)
	if pending, e3 := s.PendingJudgings(t.Context(), id); err != nil || e2 != nil || e3 != nil || len(marks)+len(pending) != 0 {
		t.Errorf("%v, %v, %v, %d marks, %d to judge", err, e2, e3, len(marks), len(pending))
	}
	rides, err := s.Rides(t.Context(), id)
	if err != nil || len(rides) != 0 {
		t.Errorf("%d rides, %v", len(rides), err)
	}
}

// wantNowhere looks for words in all files of the store as they are on the
// disk.
func wantNowhere(t *testing.T, dir string, words ...string) {
	t.Helper()
	for _, name := range files(t, dir) {
		content, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		for _, w := range words {
			if bytes.Contains(content, []byte(w)) {
				t.Errorf("%q is still in %s", w, name)
			}
		}
	}
}

// What is erased is gone from every list and from the files, at once, and the
// bike that was held is free.
func TestEraseConsultation(t *testing.T) {
	t.Parallel()
	s, id, link := customerWithAll(t)
	q := offer(t, s, id, "sedge", midday)
	if err := s.Reserve(t.Context(), "S-101", q.ID, day(30), midday); err != nil {
		t.Fatal(err)
	}
	if err := s.EraseConsultation(t.Context(), id, midday); err != nil {
		t.Fatal(err)
	}
	wantErased(t, s, id)
	if opens(t, s, link, midday) {
		t.Error("the link still opens")
	}
	_, err := s.Quote(t.Context(), q.ID)
	wantCode(t, err, NotFound)
	if got := statusOf(t, s, "S-101"); got != quote.Available {
		t.Errorf("the bike that was held is %s", got)
	}
	wantNowhere(t, s.dir, secretAnswer, secretRider)
	wantCode(t, s.EraseConsultation(t.Context(), id, midday), NotFound)
	if counts, err := s.Contents(t.Context()); err != nil || counts.String() != "14 frames, 47 add-ons, 30 bikes, 1 consultations, 0 fit summaries, 1 quotes, 0 test rides, 0 people, 0 photos, 0 photos of sources" {
		t.Errorf("what is left: %v, %v", counts, err)
	}
}

// While somebody reads a state of before, the log cannot be emptied: the
// consultation is erased all the same, and the log with the next look.
func TestEraseBesideAReader(t *testing.T) {
	t.Parallel()
	s, id, _ := customerWithAll(t)
	if _, err := s.writer.ExecContext(t.Context(), `PRAGMA busy_timeout = 10`); err != nil {
		t.Fatal(err)
	}
	err := s.view(t.Context(), "read on", func(tx *sql.Tx) error {
		var n int
		if err := tx.QueryRowContext(t.Context(), `SELECT count(*) FROM consultations`).Scan(&n); err != nil {
			return err
		}
		if err := s.EraseConsultation(t.Context(), id, midday); err != nil {
			t.Error(err)
		}
		_, _, err := s.EraseUnused(t.Context(), midday, midday, midday)
		wantCode(t, err, InUse)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if _, _, err := s.EraseUnused(t.Context(), midday, midday, midday); err != nil {
		t.Error(err)
	}
	wantNowhere(t, s.dir, secretAnswer, secretRider)
}

// A quote that was accepted stays, with its bike and the name on it, and goes
// in its own time; nothing else of the customer does.
func TestEraseLeavesAcceptedQuotes(t *testing.T) {
	t.Parallel()
	s, id, _ := customerWithAll(t)
	accepted, declined := offer(t, s, id, "sedge", midday), offer(t, s, id, "sedge", midday)
	if err := s.AcceptQuote(t.Context(), accepted.ID, midday); err != nil {
		t.Fatal(err)
	}
	wantCode(t, s.AcceptQuote(t.Context(), "none", midday), NotFound)
	if err := s.Reserve(t.Context(), "S-101", accepted.ID, day(30), midday); err != nil {
		t.Fatal(err)
	}
	if err := s.EraseConsultation(t.Context(), id, midday); err != nil {
		t.Fatal(err)
	}
	wantErased(t, s, id)
	wantNowhere(t, s.dir, secretAnswer, secretRider)
	kept, err := s.Quote(t.Context(), accepted.ID)
	if err != nil || kept.Customer != "A" || !kept.Accepted.Equal(toMillisecond(midday)) {
		t.Errorf("%+v, %v", kept, err)
	}
	_, err = s.Quote(t.Context(), declined.ID)
	wantCode(t, err, NotFound)
	if got := statusOf(t, s, "S-101"); got != quote.Reserved {
		t.Errorf("the bike that is held is %s", got)
	}
	for _, c := range []struct {
		before time.Time
		quotes int
	}{{midday, 0}, {midday.Add(time.Second), 1}} {
		if _, quotes, err := s.EraseUnused(t.Context(), midday, c.before, midday); err != nil || quotes != c.quotes {
			t.Errorf("%d quotes erased, %v, want %d", quotes, err, c.quotes)
		}
	}
	var left int
	if err := s.readers.QueryRowContext(t.Context(), `SELECT count(*) FROM consultations WHERE id = ?`, id).Scan(&left); err != nil || left != 0 {
		t.Errorf("%d rows are left of it, %v", left, err)
	}
}

// A consultation is in use until the last of what hangs on it is over.
func TestEraseUnused(t *testing.T) {
	t.Parallel()
	const days = 24 * time.Hour
	later := midday.Add(100 * days)
	for name, c := range map[string]struct {
		use  func(t *testing.T, s *Store, id string) error
		gone bool
	}{
		"nothing since": {func(*testing.T, *Store, string) error { return nil }, true},
		"saved since": {func(t *testing.T, s *Store, id string) error {
			_, err := s.SaveConsultation(t.Context(), id, 1, "Q.", nil, midday.Add(20*days))
			return err
		}, false},
		"a quote since": {func(t *testing.T, s *Store, id string) error {
			offer(t, s, id, "sedge", midday.Add(20*days))
			return nil
		}, false},
		"a quote that ran out": {func(t *testing.T, s *Store, id string) error {
			offer(t, s, id, "sedge", midday)
			return nil
		}, true},
		"a bike held": {func(t *testing.T, s *Store, id string) error {
			q := offer(t, s, id, "sedge", midday)
			return s.Reserve(t.Context(), "S-101", q.ID, quote.After(day(25), 100), midday)
		}, false},
		"a bike held until yesterday": {func(t *testing.T, s *Store, id string) error {
			q := offer(t, s, id, "sedge", midday)
			return s.Reserve(t.Context(), "S-101", q.ID, quote.After(day(25), 99), midday)
		}, true},
		"a link that opens": {func(t *testing.T, s *Store, id string) error {
			_, err := s.IssueFitSummary(t.Context(), FitSummary{Consultation: id, Frame: "sedge", Created: midday, Expires: later.Add(time.Second)})
			return err
		}, false},
		"a link that opens no more": {func(t *testing.T, s *Store, id string) error {
			_, err := s.IssueFitSummary(t.Context(), FitSummary{Consultation: id, Frame: "sedge", Created: midday, Expires: later})
			return err
		}, true},
		"a ride to come": {func(t *testing.T, s *Store, id string) error {
			_, err := s.BookRide(t.Context(), rideOn(id, "D-011", later.Add(days), time.Hour), midday)
			return err
		}, false},
		"a ride that is out": {func(t *testing.T, s *Store, id string) error {
			r, err := s.BookRide(t.Context(), rideOn(id, "D-011", midday, time.Hour), midday)
			if err != nil {
				return err
			}
			return s.SaveRide(t.Context(), r.ID, RideNotes{}, RideOut, midday)
		}, false},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			s, id := counter(t)
			if err := c.use(t, s, id); err != nil {
				t.Fatal(err)
			}
			n, _, err := s.EraseUnused(t.Context(), midday.Add(10*days), midday, later)
			if err != nil || (n == 1) != c.gone {
				t.Errorf("%d erased, %v", n, err)
			}
			if _, err := s.Consultation(t.Context(), id); (CodeOf(err) == NotFound) != c.gone {
				t.Errorf("then it is %v", err)
			}
		})
	}
}

func TestEraseWaitsForTheBike(t *testing.T) {
	t.Parallel()
	s, id := counter(t)
	r, err := s.BookRide(t.Context(), rideOn(id, "D-011", midday, time.Hour), midday)
	if err != nil {
		t.Fatal(err)
	}
	if err := s.SaveRide(t.Context(), r.ID, RideNotes{}, RideOut, midday); err != nil {
		t.Fatal(err)
	}
	wantCode(t, s.EraseConsultation(t.Context(), id, midday), Conflict)
	if err := s.SaveRide(t.Context(), r.ID, RideNotes{}, RideBack, midday); err != nil {
		t.Fatal(err)
	}
	if err := s.EraseConsultation(t.Context(), id, midday); err != nil {
		t.Error(err)
	}
}

// The document about a consultation holds all that hangs on it, and no secret.
func TestDossier(t *testing.T) {
	t.Parallel()
	s, id, link := customerWithAll(t)
	q := offer(t, s, id, "sedge", midday)
	if err := s.Reserve(t.Context(), "S-101", q.ID, day(30), midday); err != nil {
		t.Fatal(err)
	}
	document, err := s.Dossier(t.Context(), id)
	if err != nil {
		t.Fatal(err)
	}
	var got struct {
		Consultation struct {
			Customer, Created string
			Answers           struct{ Values map[string]string }
		}
		Summaries []struct{ Document struct{ Of string } } `json:"fit_summaries"`
		Quotes    []map[string]any
		Lines     []map[string]any `json:"quote_lines"`
		Warnings  []map[string]any `json:"quote_warnings"`
		Held      []map[string]any `json:"reservations"`
		Rides     []struct{ Rider string }
		Checks    []map[string]any `json:"ride_checks"`
		Marks     []map[string]any
	}
	if err := json.Unmarshal(document, &got); err != nil {
		t.Fatal(err)
	}
	if got.Consultation.Customer != "Q." || got.Consultation.Created != "2026-11-25T11:00:00Z" || got.Consultation.Answers.Values["label"] != secretAnswer ||
		len(got.Summaries) != 1 || got.Summaries[0].Document.Of != secretAnswer || len(got.Quotes) != 1 || got.Quotes[0]["total_cents"] != float64(q.Total) ||
		len(got.Lines) != len(q.Lines) || len(got.Warnings) != 2 || len(got.Held) != 1 || len(got.Rides) != 1 || got.Rides[0].Rider != secretRider ||
		len(got.Checks) != 1 || len(got.Marks) != 1 {
		t.Errorf("%s", document)
	}
	if bytes.Contains(document, hash(link)) || bytes.Contains(document, []byte("token")) {
		t.Error("the document holds the secret of a link")
	}
}

func TestProvenBackup(t *testing.T) {
	t.Parallel()
	s := opened(t, t.TempDir())
	if b, err := s.ProvenBackup(t.Context()); err != nil || b != (ProvenBackup{}) {
		t.Errorf("before the first backup: %v, %v", b, err)
	}
	for i := range 2 {
		want := ProvenBackup{toMillisecond(midday.Add(time.Duration(i) * time.Hour)), "b.db"}
		if err := s.NoteProvenBackup(t.Context(), want); err != nil {
			t.Fatal(err)
		}
		if b, err := s.ProvenBackup(t.Context()); err != nil || b != want {
			t.Errorf("%v, %v, want %v", b, err, want)
		}
	}
}

// TestEveryTableOfACustomerIsToldAndErased follows the references of the
// schema, so that a table that comes later is not forgotten to be forgotten.
func TestEveryTableOfACustomerIsToldAndErased(t *testing.T) {
	t.Parallel()
	s, id, _ := customerWithAll(t)
	told := map[string]bool{"consultations": true}
	for _, part := range dossier {
		told[part.name] = true
	}
	rows, err := s.readers.QueryContext(t.Context(), `
		WITH RECURSIVE hanging (name) AS (VALUES ('consultations') UNION
			SELECT t.name FROM hanging AS h, pragma_table_list AS t, pragma_foreign_key_list(t.name) AS k
			WHERE t.schema = 'main' AND k."table" = h.name)
		SELECT name FROM hanging`)
	if err != nil {
		t.Fatal(err)
	}
	var tables []string
	err = eachRow(rows, func(scan func(...any) error) error {
		var name string
		err := scan(&name)
		tables = append(tables, name)
		return err
	})
	if err != nil || len(tables) < 9 {
		t.Fatalf("%v, %v", tables, err)
	}
	q := offer(t, s, id, "sedge", midday)
	if err := s.Reserve(t.Context(), "S-101", q.ID, day(30), midday); err != nil {
		t.Fatal(err)
	}
	c, err := s.Catalogue(t.Context())
	if err == nil {
		err = s.change(t.Context(), "note what went", func(tx *sql.Tx) error {
			return noteHanded(t.Context(), tx, q.ID, []handed{{list: "units", code: "S-101", count: 1}}, c, c)
		})
	}
	if err != nil {
		t.Fatal(err)
	}
	before := rowCounts(t, s)
	all, err := s.RecentConsultations(t.Context(), 10)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range all {
		if err := s.EraseConsultation(t.Context(), c.ID, midday); err != nil {
			t.Fatal(err)
		}
	}
	after := rowCounts(t, s)
	for _, name := range tables {
		if !told[name] {
			t.Errorf("the document about a consultation leaves %s out", name)
		}
		if before[name] == 0 || after[name] != 0 {
			t.Errorf("%s has %d rows, and %d when all are erased", name, before[name], after[name])
		}
	}
}
