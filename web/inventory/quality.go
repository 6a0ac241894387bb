package inventory

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"regexp"
	"runtime"
	"strings"
	"sync"
	"time"

	"golang.org/x/sync/errgroup"

	"kinwain/internal/advice"
	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/quality"
	"kinwain/internal/store"
	"kinwain/web/form"
	"kinwain/web/kit"
	"kinwain/web/say"
)

const (
	// chosenAmong is how many consultations say what is ever chosen.
	chosenAmong = 200
	// folded is from how many findings of one kind on they are folded away.
	folded = 12
	// judgingTime bounds what the page may judge.
	judgingTime = 10 * time.Second
)

// quality shows what is to be looked at. What needs consultations to be judged
// is only found where the address asks for it.
func (room *Room) quality(w http.ResponseWriter, r *http.Request) error {
	shop, err := room.advice.On(r.Context(), room.Today())
	if err != nil {
		return err
	}
	view := Quality{Shell: room.inventoryShell(r, "Quality of the catalogue"), Tabs: tabs("Quality"), Ask: kit.QualityAddress + "?chosen=yes"}
	c := shop.Catalogue
	findings := quality.Check(c)
	if r.URL.Query().Get("chosen") == "yes" {
		used, err := room.everChosen(r.Context(), shop)
		if err != nil {
			return err
		}
		findings = append(findings, quality.NeverChosen(c, used.addOns, used.judged)...)
		quality.Sort(findings)
		view.Judged, view.Ask = used.words(), ""
	}
	without, of := quality.Sources(c, func(string, string, string) int { return 0 })
	view.Proof, view.Sources = sourcesAddress, fmt.Sprintf("Figures without a source: %d of %d", len(without), of)
	qualityView(&view, c, findings)
	return kit.Render(r.Context(), w, http.StatusOK, QualityPage(view))
}

// used is which add-ons the builds of some consultations have.
type used struct {
	addOns       map[string]bool
	judged, last int
}

func (u used) words() string {
	if u.last == 0 {
		return "There is no consultation yet, so nothing can be said of what is never chosen."
	}
	return fmt.Sprintf("Of the last %s %d could be judged for what is never chosen.", say.Counted(u.last, "consultation", "consultations"), u.judged)
}

// everChosen judges the last consultations, as many as there is time for.
func (room *Room) everChosen(ctx context.Context, shop *advice.Shop) (used, error) {
	list, err := room.store.RecentConsultations(ctx, chosenAmong)
	if err != nil {
		return used{}, err
	}
	u := used{addOns: map[string]bool{}, last: len(list)}
	u.judged, err = room.judgeRecent(ctx, shop, list, func(ranked []*match.Match) {
		for _, m := range ranked {
			for i := range m.Fitted {
				u.addOns[m.Fitted[i].Code] = true
			}
		}
	})
	return u, err
}

// judgeRecent judges consultations, as many as there is time for, shows each
// ranking to a function, one at a time, and returns how many there were.
func (room *Room) judgeRecent(ctx context.Context, shop *advice.Shop, list []store.Consultation, look func([]*match.Match)) (judged int, err error) {
	var mutex sync.Mutex
	bounded, cancel := context.WithTimeout(ctx, judgingTime)
	defer cancel()
	group, bounded := errgroup.WithContext(bounded)
	group.SetLimit(runtime.GOMAXPROCS(0))
	for _, saved := range list {
		group.Go(func() error {
			p, err := form.Saved(saved.Answers, room.Today())
			if p == nil || err != nil {
				return err
			}
			ranked, err := shop.Rank(bounded, p, match.Options{})
			if err != nil {
				return err
			}
			mutex.Lock()
			defer mutex.Unlock()
			judged++
			look(ranked)
			return nil
		})
	}
	if err := group.Wait(); err != nil && (ctx.Err() != nil || !errors.Is(err, context.DeadlineExceeded)) {
		return judged, err
	}
	return judged, nil
}

var qualityTitles = map[string]struct{ title, why string }{
	quality.NoGross:          {"No gross rating", "Without it nothing can be judged."},
	quality.OverGross:        {"A part rated above the whole", "No part of a bike bears more than the bike."},
	quality.NoLimits:         {"A place without limits", "Every place states the least age or the greatest weight; a harnessed one both."},
	quality.DisplacesNothing: {"Takes room that is not there", "What displaces cargo is in a zone that carries cargo without an add-on."},
	quality.DisplacesMore:    {"Takes more room than there is", "What is displaced is never below nothing, so the rest of the figure counts nowhere."},
	quality.WeakStand:        {"A stand that bears less than the bike", "A stand is held against the loaded bike without its rider."},
	quality.NoChild:          {"A place for nobody", "Held against the CDC 2000 growth reference, from the 3rd to the 97th percentile."},
	quality.NeedNeverMet:     {"A need that is never met", "What needs it can never be chosen on that frame."},
	quality.UnitCarries:      {"A bike with what it cannot have", "Either the bike or its record is wrong."},
	quality.FitsNothing:      {"Add-ons for no frame", "They are never offered."},
	quality.Alike:            {"The same frame twice", "Two frames that differ in nothing but the price."},
	quality.FarOut:           {"Figures far from their family", "A modified z-score above 3.5 (Iglewicz and Hoaglin 1993), in families of four and more; where all others are the same, twice or half of them (common practice, no published source)."},
	quality.MountUnused:      {"Mounts for nothing", "Nothing in the catalogue is fixed there."},
	quality.Unchosen:         {"Add-ons that are never chosen", "No build for any of the last consultations has them."},
	quality.NotStated:        {"Figures that the maker does not state", "What is not stated is not checked, and every match says so."},
}

var severityWords = map[quality.Severity]string{quality.Fault: "Wrong", quality.Doubt: "Look at it", quality.Gap: "Missing"}

var severityClasses = map[quality.Severity]string{quality.Fault: "does_not_fit", quality.Doubt: "fits_with_care", quality.Gap: "gap"}

// qualityView groups findings, which come in the order of their codes.
func qualityView(view *Quality, c *catalog.Catalogue, findings []quality.Finding) {
	view.Summary = "Nothing to look at: no figure is missing, and none contradicts another."
	if len(findings) > 0 {
		view.Summary = say.Capital(say.Counted(len(findings), "thing", "things")) + " to look at, the worst first."
	}
	names := namesOf(c)
	for i := range c.Frames {
		names["frames "+c.Frames[i].Code] = advice.FrameName(&c.Frames[i])
	}
	for i, f := range findings {
		if i == 0 || findings[i-1].Code != f.Code {
			t := qualityTitles[f.Code]
			view.Groups = append(view.Groups, QualityGroup{Severity: severityWords[f.Severity], Class: severityClasses[f.Severity], Title: t.title, Why: t.why})
		}
		g := &view.Groups[len(view.Groups)-1]
		thing, code := names[f.List+" "+f.Thing], f.Thing
		if f.List == "units" {
			thing, code = f.Thing+" "+thing, ""
		}
		g.Findings = append(g.Findings, QualityFinding{Href: kit.FieldAt(f.List, f.Thing, f.Field), Thing: thing, Code: code, Field: placeWords(f.List, f.Field), Text: f.Text})
		g.Folded = f.Severity == quality.Gap && len(g.Findings) > folded
	}
}

var position = regexp.MustCompile(`\[([0-9]+)\]`)

// placeWords says where in a form something is, of entries of lists by their
// number: zones[0].rating_kg is zone 1: rating.
func placeWords(list, path string) string {
	if f := fieldNamed(catalog.Of(list), "needs"); f != nil && strings.HasPrefix(path, "needs[") {
		return "what it needs"
	}
	return lowered(fieldLabel(list, position.ReplaceAllString(path, "[#$1]")))
}
