package figures

import (
	"maps"
	"slices"
	"testing"

	"kinwain/internal/match"
	"kinwain/internal/quote"
)

// all lists every figure of the table and of the criteria.
func all() []Figure {
	var list []Figure
	for _, g := range slices.Concat(Groups, Criteria()) {
		list = append(list, g.Figures...)
	}
	return list
}

// TestEveryFigureThatIsReadIsHere holds that each figure that the domain reads
// has a line, with a default within its range, and that no line is idle.
func TestEveryFigureThatIsReadIsHere(t *testing.T) {
	read := match.DefaultSettings().Figures()
	maps.Copy(read, quote.DefaultSettings().Figures())
	read[FitSummaryDays] = int64(SummaryDays(nil))
	days, years := Retention(nil)
	read[ForgetDays], read[PapersYears] = int64(days), int64(years)
	ownDays, ownLeast := Own(nil)
	read[OwnDays], read[OwnLeast] = int64(ownDays), int64(ownLeast)
	var names []string
	for _, f := range all() {
		names = append(names, f.Name)
		n, known := read[f.Name]
		if !known || n < f.Least || n > f.Most || f.Least >= f.Most {
			t.Errorf("%s is %d, read: %v, from %d to %d", f.Name, n, known, f.Least, f.Most)
		}
	}
	slices.Sort(names)
	if want := slices.Sorted(maps.Keys(read)); !slices.Equal(names, want) {
		t.Errorf("%v, want %v", names, want)
	}
	for _, c := range match.DefaultSettings().Criteria {
		if CriterionNames[c.Code] == "" || criterionWhys[c.Code] == "" {
			t.Errorf("nobody says what %s is", c.Code)
		}
	}
}

// TestFiguresAreReadAsTheyAreShown writes the ends of every range and what is
// between them, and reads them again to the last unit.
func TestFiguresAreReadAsTheyAreShown(t *testing.T) {
	for _, f := range all() {
		for _, n := range []int64{f.Least, f.Least + 1, (f.Least + f.Most) / 2, f.Most - 1, f.Most} {
			text := f.Kind.Show(n)
			if got, err := f.Read(text, -1); err != nil || got != n {
				t.Errorf("%s: %d is shown as %q and read as %d, %v", f.Name, n, text, got, err)
			}
		}
		if got, err := f.Read(" ", 7); err != nil || got != 7 {
			t.Errorf("%s: nothing is read as %d, %v", f.Name, got, err)
		}
		for _, text := range []string{"many", "-1", f.Kind.Show(f.Most + 1)} {
			if n, err := f.Read(text, 0); err == nil {
				t.Errorf("%s: %q is read as %d", f.Name, text, n)
			}
		}
	}
}

func TestUnitsOfFigures(t *testing.T) {
	for _, c := range []struct {
		kind Kind
		text string
		want int64
	}{
		{Mass, "4", 4000}, {Mass, "9 lb", 4082}, {Length, "0.5", 5}, {Length, "2 in", 51}, {Share, "80", 8000}, {Share, "8,5 %", 850},
		{Days, "14", 14}, {Days, "1 day", 1}, {Days, "60 Days", 60}, {Count, "3", 3},
		{Speed, "4 km/h", 4000}, {Speed, "4,25", 4250}, {Effort, "1.8 W", 1800}, {Effort, "2", 2000}, {Effort, " 0.95w ", 950},
	} {
		if got, err := c.kind.Parse(c.text); err != nil || got != c.want {
			t.Errorf("%q is %d, %v, want %d", c.text, got, err, c.want)
		}
	}
}

// TestOnlyWhatDiffersIsStored holds that a figure at its default follows the
// default, and that what is not known here is not shown.
func TestOnlyWhatDiffersIsStored(t *testing.T) {
	figures := InForce(map[string]int64{"quote_days": 30, "of_another_version": 1})
	if figures["quote_days"] != 30 || figures["deposit_share"] != Defaults()["deposit_share"] || len(figures) != len(Defaults()) {
		t.Errorf("%v", figures)
	}
	set, reset := Changed(figures)
	if !maps.Equal(set, map[string]int64{"quote_days": 30}) || len(reset) != len(figures)-1 || slices.Contains(reset, "quote_days") {
		t.Errorf("%v, %v", set, reset)
	}
	for changed, want := range map[int64]int{0: 60, -5: 60, 1: 1, 90: 90} {
		if got := SummaryDays(map[string]int64{FitSummaryDays: changed}); got != want {
			t.Errorf("%d days for %d", got, changed)
		}
	}
	for changed, want := range map[[2]int64][2]int{{0, -1}: {90, 7}, {-5, 0}: {90, 0}, {1, 10}: {1, 10}} {
		if days, years := Retention(map[string]int64{ForgetDays: changed[0], PapersYears: changed[1]}); days != want[0] || years != want[1] {
			t.Errorf("%d days and %d years for %v", days, years, changed)
		}
	}
}

func TestOwn(t *testing.T) {
	for changed, want := range map[[2]int64][2]int{{0, 0}: {180, 5}, {30, 12}: {30, 12}, {-1, 3}: {180, 3}} {
		if days, least := Own(map[string]int64{OwnDays: changed[0], OwnLeast: changed[1]}); days != want[0] || least != want[1] {
			t.Errorf("%d days and %d consultations for %v", days, least, changed)
		}
	}
}

// TestWhatMayBeLeftEmptyIsShownEmpty holds that a figure that sets nothing is
// no figure on the page, and that every local rule has words.
func TestWhatMayBeLeftEmptyIsShownEmpty(t *testing.T) {
	for _, f := range all() {
		if f.Optional != (f.Show(0) == "") || f.Optional && Defaults()[f.Name] != 0 {
			t.Errorf("%s: nothing is shown as %q", f.Name, f.Show(0))
		}
	}
	var texts, want []string
	for _, g := range Groups {
		for _, text := range g.Texts {
			texts = append(texts, text.Name)
		}
	}
	for _, rule := range match.LocalRules {
		want = append(want, match.WordsOf(rule))
	}
	slices.Sort(texts)
	slices.Sort(want)
	if !slices.Equal(texts, want) {
		t.Errorf("%v, want %v", texts, want)
	}
}
