package form

import (
	"errors"
	"maps"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"kinwain/internal/measure"
	"kinwain/internal/problem"
)

var thisDay = measure.Date{Year: 2026, Month: 11, Day: 26}

// heardAs is what a line does to an empty form: every field it sets and, last,
// what it leaves.
func heardAs(units, line string) []string {
	f := New()
	f.Set(Units, units)
	before := maps.Clone(f.values)
	_, _, left := f.Hear(line, thisDay)
	var got []string
	for name, value := range f.values {
		if value != before[name] && !strings.HasSuffix(name, ".label") {
			got = append(got, name+"="+value)
		}
	}
	slices.Sort(got)
	if left != "" {
		got = append(got, "left: "+left)
	}
	return got
}

func TestHear(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ units, line, want string }{
		{"", "5'11 and 163, kids 14 months and 4, dog 30, lift 140 by 110, 5500",
			"budget_cents=5500|home.lift.length_cm=140 cm|home.lift.width_cm=110 cm|passengers[0].born=9.2025|passengers[1].born=5.2022|pet_kg=30 kg|riders[0].height_cm=5'11|riders[1].height_cm=163 cm"},
		{"", "180 et 1,65 m, enfants 14 mois et 4 ans, chien 30 kg, ascenseur 140 sur 110, budget 5500 €",
			"budget_cents=5500 €|home.lift.length_cm=140 cm|home.lift.width_cm=110 cm|passengers[0].born=9.2025|passengers[1].born=5.2022|pet_kg=30 kg|riders[0].height_cm=180 cm|riders[1].height_cm=1,65 m"},
		{"", "180 cm 84 kg und 165 62 kg; zwei Kinder 2 und 5, Hund 12,5 kg, Tür 80 mal 200, 3 Stufen",
			"home.doorways[0].height_cm=200 cm|home.doorways[0].width_cm=80 cm|home.steps=3|passengers[0].born=5.2024|passengers[1].born=5.2021|pet_kg=12,5 kg|riders[0].height_cm=180 cm|riders[0].weight_kg=84 kg|riders[1].height_cm=165 cm|riders[1].weight_kg=62 kg"},
		{"", "ouders 1.80 en 1.65, tweeling 3, boodschappen 20 kg en 60 l, schuur 200 bij 90, helling 8 %, voor 5 jaar",
			"cargo_kg=20 kg|cargo_litres=60 l|hill_percent=8|home.length_cm=200 cm|home.width_cm=90 cm|passengers[0].born=5.2023|passengers[1].born=5.2023|riders[0].height_cm=1.80 m|riders[1].height_cm=1.65 m|years=5"},
		{Imperial, "5'11 180 lb and 5'4 140, dog 60, kids May 2023 38 lb",
			"passengers[0].born=5.2023|passengers[0].weight_kg=38 lb|pet_kg=60 lb|riders[0].height_cm=5'11|riders[0].weight_kg=180 lb|riders[1].height_cm=5'4|riders[1].weight_kg=140 lb"},
		{"", "12 st 4, corner 110 and 100, max 3.500", "budget_cents=3.500|home.corners[0].in_cm=110 cm|home.corners[0].out_cm=100 cm|riders[0].weight_kg=12 st 4"},

		{"", "he's 1m80 and weighs 84 kilos, my wife is 5 foot 4 and 62", "riders[0].height_cm=1m80|riders[0].weight_kg=84 kilos|riders[1].height_cm=5 foot 4|riders[1].weight_kg=62 kg"},
		{"", "monsieur fait 1,80 m et 84 kg, un chien de 30 kg, l'ascenseur 140 sur 110", "home.lift.length_cm=140 cm|home.lift.width_cm=110 cm|pet_kg=30 kg|riders[0].height_cm=1,80 m|riders[0].weight_kg=84 kg"},
		{"", "ich bin 1,80 m und wiege 84 kilo, meine Frau 163, höchstens 5500 Euro", "budget_cents=5500|riders[0].height_cm=1,80 m|riders[0].weight_kg=84 kilo|riders[1].height_cm=163 cm"},
		{"", "mijn vrouw 1,63 m 62 kilo, maximaal 5500 euro", "budget_cents=5500|riders[0].height_cm=1,63 m|riders[0].weight_kg=62 kilo"},
		{"", "mum and two kids 3 and 5, 4 years", "passengers[0].born=5.2023|passengers[1].born=5.2021|left: 4 years"}, // how old, or for how long
		{"", "boy 4, girls 14 months and 2", "passengers[0].born=5.2022|passengers[0].sex=boy|passengers[1].born=9.2025|passengers[1].sex=girl|passengers[2].born=5.2024|passengers[2].sex=girl"},
		{"", "our son 4 and our daughter 2", "passengers[0].born=5.2022|passengers[0].sex=boy|passengers[1].born=5.2024|passengers[1].sex=girl"},
		{"", "boy and girl twins 3", "passengers[0].born=5.2023|passengers[1].born=5.2023|left: boy, and, girl"}, // who is which
		{"", "expecting a girl in March", "passengers[0].born=3.2027|passengers[0].sex=girl"},
		{"", "zwei Jungen 3 und 5", "passengers[0].born=5.2023|passengers[0].sex=boy|passengers[1].born=5.2021|passengers[1].sex=boy"},
		{"", "une fille de 4 ans et un garçon de 2 ans", "passengers[0].born=5.2022|passengers[0].sex=girl|passengers[1].born=5.2024|passengers[1].sex=boy"},
		{"", "een jongen van 4 en een meisje van 2", "passengers[0].born=5.2022|passengers[0].sex=boy|passengers[1].born=5.2024|passengers[1].sex=girl"},
		{"", "130", "left: 130"},                                     // tall, or heavy
		{"", "kids 14 and 20 months", "left: kids 14 and 20 months"}, // years, or months
		{"", "groceries 20", "left: groceries 20"},                   // kilograms, or litres
		{"", "30 kg", "left: 30 kg"},                                 // of what
		{"", "lift 140", "left: lift 140"},                           // long, or wide
		{"", "three kids 4 and 6", "left: three kids 4 and 6"},       // and the third
		{"", "a red one, 178", "riders[0].height_cm=178 cm|left: a red one"},
		{"", "kids in 2031", "left: kids in 2031"},
		{"", "€ 3500.,", "budget_cents=€ 3500"},
		{"", "", ""},
	} {
		if got := strings.Join(heardAs(c.units, c.line), "|"); got != c.want {
			t.Errorf("%q:\n got %s\nwant %s", c.line, got, c.want)
		}
	}
}

// TestHearTheMost hears what there is to spend at the most, where nothing else is
// meant by it, and that it is firm where that is said.
func TestHearTheMost(t *testing.T) {
	t.Parallel()
	for line, want := range map[string]string{
		"pas plus de 4000 €": "4000 €", "jusqu'à 4000": "4000", "au plus 4 000 €": "4 000 €", "moins de 4000 euros": "4000",
		"nicht mehr als 4000 Euro": "4000", "höchstens 4000 €": "4000 €", "bis zu 4.000": "4.000", "bis 4000 €": "4000 €", "unter 4000": "4000",
		"niet meer dan 4000": "4000", "hooguit 4000 euro": "4000", "tot 4000": "4000", "ten hoogste 4000": "4000",
		"no more than 4000": "4000", "at the most 4,000": "4,000", "at most 4000 euros": "4000", "under 4000": "4000", "4000 max": "4000", "budget at most 800": "800", "max budget 800": "800",
	} {
		if got := strings.Join(heardAs("", line), "|"); got != "budget_cents="+want {
			t.Errorf("%q: %s", line, got)
		}
	}
	for line, want := range map[string]string{"max 4000 firm": "4000", "budget ferme 4000": "4000", "4000 € fest": "4000 €"} {
		if got := strings.Join(heardAs("", line), "|"); got != "budget_cents="+want+"|budget_firm=yes" {
			t.Errorf("%q: %q", line, got)
		}
	}
	for _, line := range []string{
		"no more than 30 kg", "max 20", "groceries max 20", "dog at most 30 kg", "lift max 140", // of what; or is that what it weighs
		"kids max 2", "bis 2030", "not more than 2", "höchstens 8 %", "max firm",
	} {
		if got := heardAs("", line); len(got) != 1 || got[0] != "left: "+line {
			t.Errorf("%q: %v", line, got)
		}
	}
}

// TestHearWhoIsExpected hears in which month somebody is to be born, the next one
// of that name, and asks where that is not said or cannot be.
func TestHearWhoIsExpected(t *testing.T) {
	t.Parallel()
	for line, want := range map[string]string{
		"baby due in March": "3.2027", "expecting in March": "3.2027", "due 14 March": "14.3.2027", "one due March 2027": "3.2027", "a baby on the way in May": "5.2027",
		"bébé prévu en mars": "3.2027", "nous attendons un enfant en mai": "5.2027", "wir erwarten ein Baby im Jänner": "1.2027",
		"uitgerekend in augustus": "8.2027", "een baby op komst in maart": "3.2027", "due in November": "11.2026", "due 30 November": "30.11.2026",
	} {
		got := strings.Join(heardAs("", line), "|")
		if got != "passengers[0].born="+want {
			t.Errorf("%q: %s", line, got)
		}
	}
	if got := strings.Join(heardAs("", "kids 3 and 5 and a baby due in March"), "|"); got != "passengers[0].born=5.2023|passengers[1].born=5.2021|passengers[2].born=3.2027" {
		t.Error(got)
	}
	if got := strings.Join(heardAs("", "twins due in March"), "|"); got != "passengers[0].born=3.2027|passengers[1].born=3.2027" {
		t.Error(got)
	}
	for line, lacks := range map[string]Lack{
		"one on the way": LacksDue, "un bébé en route": LacksDue, "Baby unterwegs": LacksDue, "op komst": LacksDue, "pregnant": LacksDue,
		"due in October":  LacksDue, // in eleven months, or last month
		"due 25 November": LacksDue, "expecting, 3 months": LacksDue, "due in 3 months": LacksDue, "due March 2026": LacksDue, "expecting 2 and March": LacksDue,
		"two kids due in March": LacksNothing, "baby in March": LacksYear, "Kind im Mai": LacksYear, "kids 3 may 2023": LacksNothing,
	} {
		f := New()
		heard, doubts, left := f.Hear(line, thisDay)
		if len(heard) > 0 || len(doubts) == 0 || doubts[0].Lacks != lacks || left != line {
			t.Errorf("%q: %v, %+v, %q", line, heard, doubts, left)
		}
	}
}

// TestHearWhoExpects hears a rider and the child that the rider expects out of
// one breath, and asks where a figure may be of either.
func TestHearWhoExpects(t *testing.T) {
	t.Parallel()
	const child, rider = "passengers[0].born=3.2027", "riders[0].height_cm=163 cm"
	for line, want := range map[string]string{
		"my wife 163 is expecting in March":                  child + "|" + rider,
		"163 and a baby due in March":                        child + "|" + rider,
		"my wife 163 is expecting our second in March":       child + "|" + rider,
		"my wife 163 is having a baby in March":              child + "|" + rider,
		"my wife 163 62 kg is due 14 March":                  "passengers[0].born=14.3.2027|" + rider + "|riders[0].weight_kg=62 kg",
		"my wife 163 and I 180 are expecting twins in March": child + "|passengers[1].born=3.2027|" + rider + "|riders[1].height_cm=180 cm",
		"kids 3 and 5 and my wife 163 is expecting in March": "passengers[0].born=5.2023|passengers[1].born=5.2021|passengers[2].born=3.2027|" + rider,
		"lift 140 by 110 my wife 163 is expecting in March":  "home.lift.length_cm=140 cm|home.lift.width_cm=110 cm|" + child + "|" + rider,
		"meine Frau 163 erwartet im März ein Kind":           child + "|" + rider,
		"meine Frau 163 erwartet unser zweites Kind im März": child + "|" + rider,
		"meine Frau 163 bekommt im März Zwillinge":           child + "|passengers[1].born=3.2027|" + rider,
		"wir erwarten im März ein Kind":                      child,
		"Baby im März unterwegs":                             child,
		"ma femme 163 attend un bébé pour mars":              child + "|" + rider,
		"ma femme 1m63 est enceinte pour mars":               child + "|riders[0].height_cm=1m63",
		"ma femme 163 attend notre deuxième en mars":         child + "|" + rider,
		"mijn vrouw 163 verwacht in maart een kindje":        child + "|" + rider,
		"mijn vrouw 163 is in maart uitgerekend":             child + "|" + rider,
		"mijn vrouw 163 krijgt in maart een baby":            child + "|" + rider,
		"expecting in March kids 3 and 5":                    child + "|passengers[1].born=5.2023|passengers[2].born=5.2021",
		"kids 3 and 5 expecting":                             "passengers[0].born=5.2023|passengers[1].born=5.2021|left: expecting",
		"my wife 163 is pregnant":                            rider + "|left: is pregnant",
		"130 is expecting in March":                          child + "|left: 130", // tall, or heavy
		"14 due March":                                       "left: 14 due March", // a day, or how old
		"2 expecting in March":                               "left: 2 expecting in March",
		"2027 due in March":                                  "left: 2027 due in March",
		"3 months pregnant due in March":                     "left: 3 months pregnant due in March",
		"kids 3 March expecting":                             "left: kids 3 March, expecting",
		"expecting in March and two kids":                    child + "|left: and two kids",
		"im März erwartet meine Frau 163 ein Kind":           "left: im März erwartet meine Frau 163, ein Kind",
	} {
		if got := strings.Join(heardAs("", line), "|"); got != want {
			t.Errorf("%q:\n got %s\nwant %s", line, got, want)
		}
	}
}

// TestNoWordIsAMonth holds words of a line apart from names of months, of which
// their beginnings will do.
func TestNoWordIsAMonth(t *testing.T) {
	t.Parallel()
	seen := 0
	for _, words := range []map[string]bool{joiners, fillers, lasting, firm, set(strings.Join(slices.Collect(maps.Keys(topics)), " ")), set(strings.Join(slices.Collect(maps.Keys(counts)), " "))} {
		for word := range words {
			if seen++; utf8.RuneCountInString(word) >= 3 && monthNamed(word) > 0 {
				t.Errorf("%s is a month", word)
			}
		}
	}
	if seen < 200 {
		t.Errorf("%d words", seen)
	}
}

// TestHearAddsToWhatIsThere holds that a line fills what is empty and changes
// nothing else.
func TestHearAddsToWhatIsThere(t *testing.T) {
	t.Parallel()
	f := New()
	f.Set("riders[0].height_cm", "172")
	f.Set("customer", "K")
	f.unknown["home"], f.unknown["passengers"] = true, true
	heard, doubts, left := f.Hear("66 kg, 181 and kids 3, lift 140 by 110, tuba 4", thisDay)
	if f.Get("riders[0].height_cm") != "172" || f.Get("riders[0].weight_kg") != "66 kg" || f.Get("riders[1].height_cm") != "181 cm" || f.Get("customer") != "K" {
		t.Errorf("%v", f.values)
	}
	if f.Unknown("home") || f.Unknown("passengers") {
		t.Error("what was told is still not known")
	}
	if len(heard) != 5 || len(doubts) != 1 || left != "tuba 4" {
		t.Errorf("%v, %v, %q", heard, doubts, left)
	}
}

// TestDoubtsNameBothReadings asks where two things may be meant.
func TestDoubtsNameBothReadings(t *testing.T) {
	t.Parallel()
	_, doubts, _ := New().Hear("groceries 20, 130, 4 years", thisDay)
	if len(doubts) != 3 || !slices.Equal(doubts[2].Either, []string{"born", Lasting}) || !slices.Equal(doubts[0].Either, []string{"cargo_kg", "cargo_litres"}) || !slices.Equal(doubts[1].Either, []string{"height_cm", "weight_kg"}) {
		t.Errorf("%+v", doubts)
	}
}

// FuzzHear holds that whatever is typed, what is left is a line that is heard
// no further, what is set can be read, and every word is either understood or
// left.
func FuzzHear(f *testing.F) {
	for _, line := range []string{
		"5'11 and 163, kids 14 months and 4, dog 30, lift 140 by 110, 5500", "180 et 1,65 m; chien 30 kg", "zwei Kinder 2 und 5", "12 st 4 lb",
		"kids 1.2023 and 2024-05-03", "İ 178", "a baby due 14. march", "dog on the way max 4.000 firm", "pas plus de bis zu 4000 € mai", "5' , 5'11\" 12,5", "€ 3,500.50", "€1.,", "\xff 178", "twins 0", "kid 200 months",
		"my wife 163 is expecting our second in March", "wir erwarten im März ein Kind", "lift 140 by 110 my wife 163 is having a baby", "kids 3 March expecting 2027",
	} {
		f.Add(line)
	}
	f.Fuzz(func(t *testing.T, line string) {
		if cut(line) != line {
			return
		}
		form := New()
		heard, doubts, left := form.Hear(line, thisDay)
		if utf8.ValidString(line) && !utf8.ValidString(left) {
			t.Fatalf("%q leaves %q", line, left)
		}
		if (left == "") != (len(doubts) == 0) {
			t.Fatalf("%q leaves %q with %d doubts", line, left, len(doubts))
		}
		for _, h := range heard {
			if !known(h.Field) || form.Get(h.Field) == "" || cut(h.Value) != h.Value {
				t.Fatalf("%q set %+v", line, h)
			}
		}
		_, err := form.Profile(thisDay)
		for _, h := range heard {
			if fault := faultAt(err, h.Field); strings.Contains(fault, "is not a") {
				t.Fatalf("%q set %+v, which is not read: %s", line, h, fault)
			}
		}
		if again, _, still := form.Hear(left, thisDay); len(again) > 0 && left != line {
			t.Fatalf("%q leaves %q, of which %v is heard, and %q stays", line, left, again, still)
		}
	})
}

func faultAt(err error, field string) string {
	var faults problem.List
	if !errors.As(err, &faults) {
		return ""
	}
	return faults.At(field)
}
