package shop

import (
	"context"
	"fmt"
	"io/fs"
	"net/http"
	"path"
	"strings"
	"sync"

	"golang.org/x/sync/errgroup"

	"kinwain/internal/advice"
	"kinwain/internal/match"
	"kinwain/internal/profile"
	"kinwain/testdata"
	"kinwain/web/kit"
	"kinwain/web/say"
)

// sample is a sample customer.
type sample struct {
	name    string
	profile *profile.Profile
}

// samples reads the sample customers once.
var samples = sync.OnceValues(func() ([]sample, error) {
	names, err := fs.Glob(testdata.Profiles, "profiles/*.json")
	if err != nil {
		return nil, err
	}
	var list []sample
	for _, name := range names {
		document, err := testdata.Profiles.ReadFile(name)
		if err != nil {
			return nil, err
		}
		p, err := profile.Parse(document)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		list = append(list, sample{say.Capital(strings.ReplaceAll(strings.TrimSuffix(path.Base(name), ".json"), "-", " ")), p})
	}
	return list, nil
})

// previewCriteria answers with what the figures as typed would change, and
// saves nothing.
func (room *Room) previewCriteria(w http.ResponseWriter, r *http.Request) error {
	posted, err := kit.Posted(r)
	if err != nil {
		return err
	}
	saved, err := room.figures(r.Context())
	if err != nil {
		return err
	}
	page := criteriaPage()
	merge(posted, page.stands(saved, nil))
	t := page.read(posted, saved)
	view, err := room.preview(r.Context(), t)
	if err != nil {
		return err
	}
	return kit.Render(r.Context(), w, http.StatusOK, OrderPreview(view))
}

// preview ranks the frames for the sample customers by the figures that are
// saved and by those that are typed.
func (room *Room) preview(ctx context.Context, t typedFigures) (Preview, error) {
	view := Preview{Faults: map[string]string{}}
	if len(t.faults) > 0 {
		view.Waiting, view.Faults = "Mend the fields that have a fault, and the order comes up here.", t.faults
		return view, nil
	}
	shop, err := room.advice.On(ctx, room.Today())
	if err != nil {
		return view, err
	}
	customers, err := samples()
	if err != nil {
		return view, err
	}
	figures := shop.Settings.Figures()
	for name, n := range t.figures {
		figures[name] = n
	}
	after, err := shop.With(match.SettingsOf(figures).WithTexts(shop.Settings.Local.Texts()))
	if err != nil {
		return view, err
	}
	view.Rows = make([]PreviewRow, len(customers))
	group, ctx := errgroup.WithContext(ctx)
	for i, customer := range customers {
		group.Go(func() error {
			var err error
			view.Rows[i], err = previewRow(ctx, customer, shop, after)
			return err
		})
	}
	if err := group.Wait(); err != nil {
		return view, err
	}
	moved := 0
	for _, row := range view.Rows {
		if row.Moved {
			moved++
		}
	}
	view.Summary = fmt.Sprintf("The first three change for %d of %d sample customers.", moved, len(view.Rows))
	return view, nil
}

// previewed is how many frames of each order are shown.
const previewed = 3

func previewRow(ctx context.Context, customer sample, before, after *advice.Shop) (PreviewRow, error) {
	row := PreviewRow{Customer: customer.name}
	old, err := thoseThatFit(ctx, customer, before)
	if err != nil {
		return row, err
	}
	new, err := thoseThatFit(ctx, customer, after)
	if err != nil {
		return row, err
	}
	places := map[string]int{}
	for i, m := range old {
		places[m.Frame.Code] = i
	}
	for i := range min(previewed, len(old)) {
		row.Before = append(row.Before, previewFrame(old[i]))
	}
	for i := range min(previewed, len(new)) {
		frame := previewFrame(new[i])
		if was := places[new[i].Frame.Code]; was > i {
			frame.Moved = fmt.Sprintf("up from place %d", was+1)
		} else if was < i {
			frame.Moved = fmt.Sprintf("down from place %d", was+1)
		}
		row.Moved = row.Moved || frame.Moved != ""
		row.After = append(row.After, frame)
	}
	return row, nil
}

func previewFrame(m *match.Match) PreviewFrame {
	return PreviewFrame{Name: advice.FrameName(m.Frame), Score: m.Score.FloatString(1), Care: m.Verdict == match.FitsWithCare}
}

// thoseThatFit ranks the frames that fit.
func thoseThatFit(ctx context.Context, customer sample, shop *advice.Shop) ([]*match.Match, error) {
	ranked, err := shop.Rank(ctx, customer.profile, match.Options{})
	for i, m := range ranked {
		if !m.Fits() { // they come last
			return ranked[:i], err
		}
	}
	return ranked, err
}
