package recheck

import (
	"encoding/csv"
	"math"
	"os"
	"slices"
	"strconv"
	"time"
)

// What people are on a day: who rides along, how heavy, how tall, how old.

func dayOf(text string) time.Time {
	t, err := time.Parse("2006-01-02", text)
	if err != nil {
		t, err = time.Parse("2006-01", text)
	}
	if err != nil {
		panic(err)
	}
	return t
}

func lastOf(month time.Time) time.Time {
	return time.Date(month.Year(), month.Month()+1, 0, 0, 0, 0, 0, time.UTC)
}

// monthsOn is the same day so many months on, or the last one of that month.
func monthsOn(t time.Time, months int) time.Time {
	last := time.Date(t.Year(), t.Month()+time.Month(months)+1, 0, 0, 0, 0, 0, time.UTC)
	return last.AddDate(0, 0, min(t.Day(), last.Day())-last.Day())
}

// monthsBetween counts from one month to another.
func monthsBetween(from, to time.Time) int {
	return (to.Year()-from.Year())*12 + int(to.Month()-from.Month())
}

// months is an age: whole months, and the part that has passed of the next.
func months(born, day time.Time) float64 {
	n := monthsBetween(born, day)
	if day.Before(monthsOn(born, n)) {
		n--
	}
	from, to := monthsOn(born, n), monthsOn(born, n+1)
	return float64(n) + day.Sub(from).Hours()/to.Sub(from).Hours()
}

// standing is one passenger on one day. Weights and statures are kept with
// their parts of a gram.
type standing struct {
	present            bool
	load, light, tall  float64
	young, old         int  // months that are surely over, and surely not yet passed
	ageless            bool // nobody knows how old
	estimated, outside bool
}

// on says what a passenger is on a day.
func (p *passenger) on(asOf, day time.Time) standing { return p.at(asOf, day, "") }

func (p *passenger) at(asOf, day time.Time, pace string) standing {
	st := standing{present: true}
	born, known := p.birth()
	if !known {
		w := float64(p.Weight.value)
		st.load, st.light, st.tall, st.ageless = w+1000, w, float64(p.Stature.value), true
		return st
	}
	if years := p.Leaves.value; years > 0 && !day.Before(monthsOn(born[1], 12*years)) {
		return standing{}
	}
	if joins, ok := p.joins(asOf); ok && day.Before(joins) {
		day = joins
	}
	heavy, light, tall, off := p.grown(born[0], asOf, day, pace)
	st.load, st.light, st.tall = heavy+1000, light, tall
	st.estimated, st.outside = p.Weight.value == 0, off
	for !day.Before(monthsOn(born[1], st.young+1)) {
		st.young++
	}
	for monthsOn(born[0], st.old).Before(day) {
		st.old++
	}
	return st
}

// birth returns the first and the last day on which the passenger may be born.
func (p *passenger) birth() ([2]time.Time, bool) {
	if !p.Born.given {
		return [2]time.Time{}, false
	}
	first := dayOf(p.Born.value)
	if len(p.Born.value) == len("2006-01") {
		return [2]time.Time{first, lastOf(first)}, true
	}
	return [2]time.Time{first, first}, true
}

// joins is the day from which the passenger rides along: never before the
// first birthday, and on that day where the birth is still ahead.
func (p *passenger) joins(asOf time.Time) (time.Time, bool) {
	born, known := p.birth()
	if p.Joins.value == "" {
		if known && born[0].After(asOf) {
			return monthsOn(born[1], 12), true
		}
		return time.Time{}, false
	}
	day := dayOf(p.Joins.value)
	if known {
		if first := monthsOn(born[1], 12); day.Before(first) {
			return first, true
		}
	}
	return day, true
}

// grown carries weight and stature forward, each at the child's own z-score
// or else at the percentiles for planning (75th) and minima (25th). What was
// read stays as it was on the day of reading, and nobody gets lighter or
// shorter. What an infant weighs foretells little: then it is never better
// than the percentiles. At a pace of their own they grow by other percentiles,
// or so far off their z-score, and do not get lighter than the reading.
func (p *passenger) grown(born, asOf, day time.Time, pace string) (heavy, light, tall float64, outside bool) {
	reading, now := months(born, asOf), months(born, day)
	sex := p.Sex.value
	off := func(m float64) bool { return m < 12.5 || m > 204.5 }
	outside = off(now)
	up, down, high, apart := paces[pace].z, min(-0.6744897501960817, paces[pace].z), paces[pace].z, paces[pace].apart
	if p.Weight.value > 0 {
		z := at("weight", sex, reading).z(float64(p.Weight.value)/1000) + apart
		if reading < 12 {
			up, down = max(z, up), min(z, down)
		} else {
			up, down = z, z
		}
	}
	if p.Stature.value > 0 {
		if z := at("stature", sex, reading).z(float64(p.Stature.value)/10) + apart; reading < 12 {
			high = max(z, high)
		} else {
			high = z
		}
	}
	still := !asOf.Before(day) || reading >= 204.5
	if asOf.Before(day) && (p.Weight.value > 0 || p.Stature.value > 0) {
		outside = outside || off(reading)
	}
	heavy, light, tall = at("weight", sex, now).of(up)*1000, at("weight", sex, now).of(down)*1000, at("stature", sex, now).of(high)*10
	if p.Weight.value > 0 {
		if still {
			heavy, light = float64(p.Weight.value), float64(p.Weight.value)
		}
		heavy = max(heavy, float64(p.Weight.value))
		if pace != "" {
			light = max(light, float64(p.Weight.value))
		}
	}
	if p.Stature.value > 0 {
		if still {
			tall = float64(p.Stature.value)
		}
		tall = max(tall, float64(p.Stature.value))
	}
	return heavy, light, tall, outside
}

// spread is a measure at one age: skewness L, median M, spread S.
type spread struct{ l, m, s float64 }

func (d spread) of(z float64) float64    { return d.m * math.Pow(1+d.l*d.s*z, 1/d.l) }
func (d spread) z(value float64) float64 { return (math.Pow(value/d.m, d.l) - 1) / (d.l * d.s) }

type knot struct {
	months float64
	spread
}

// curves hold L, M and S of every measure and sex, won back from the published
// percentiles: M is the 50th, and L and S are those at which the 3rd and the
// 97th lie 1.8808 spreads away on either side.
var curves = func() map[string][]knot {
	file, err := os.Open("../../testdata/growth/cdc2000-percentiles.csv")
	if err != nil {
		panic(err)
	}
	defer file.Close()
	r := csv.NewReader(file)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		panic(err)
	}
	all := map[string][]knot{}
	for _, row := range rows[1:] {
		figure := func(i int) float64 {
			f, err := strconv.ParseFloat(row[i], 64)
			if err != nil {
				panic(err)
			}
			return f
		}
		name := row[0] + " " + row[1]
		// Every third month of the infants' charts and every sixth of the
		// others are the ages between which all lies on straight lines.
		age := figure(2)
		step, from := 3.0, 12.5
		if age > 24 {
			step, from = 6, 30.5
		}
		if age != 24 && math.Mod(age-from, step) != 0 {
			continue
		}
		all[name] = append(all[name], knot{age, between(figure(3), figure(7), figure(11))})
	}
	for _, list := range all {
		slices.SortFunc(list, func(a, b knot) int { return int(2 * (a.months - b.months)) })
	}
	return all
}()

func between(p3, p50, p97 float64) spread {
	const z = 1.8807936081512509
	low, high := -5.0, 5.1 // never nothing, by which nothing divides
	for range 100 {
		l := (low + high) / 2
		if (math.Pow(p97/p50, l)-1)/l+(math.Pow(p3/p50, l)-1)/l > 0 {
			high = l
		} else {
			low = l
		}
	}
	return spread{low, p50, (math.Pow(p97/p50, low) - 1) / (low * z)}
}

// at is a measure at an age; whose sex nobody states has the mean of both.
func at(measure, sex string, age float64) spread {
	if sex != "girl" && sex != "boy" {
		a, b := at(measure, "girl", age), at(measure, "boy", age)
		return spread{(a.l + b.l) / 2, (a.m + b.m) / 2, (a.s + b.s) / 2}
	}
	list := curves[measure+" "+sex]
	age = min(max(age, list[0].months), list[len(list)-1].months)
	i := 1
	for list[i].months < age {
		i++
	}
	a, b := list[i-1], list[i]
	t := (age - a.months) / (b.months - a.months)
	return spread{a.l + t*(b.l-a.l), a.m + t*(b.m-a.m), a.s + t*(b.s-a.s)}
}

// near reports whether a figure is so near to a whole one that how it rounds
// cannot be told from published percentiles of seven digits.
func near(figure float64) bool {
	off := math.Abs(figure - math.Round(figure))
	return off > 1e-9 && off < 0.02
}
