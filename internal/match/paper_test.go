// One match worked out on paper, figure by figure.
package match_test

import (
	"context"
	"math/big"
	"slices"
	"testing"

	gocmp "github.com/google/go-cmp/cmp"

	"kinwain/internal/fitting"
	"kinwain/internal/load"
	"kinwain/internal/match"
	"kinwain/internal/measure"
)

// The tradesperson is 176 cm tall, states 74 kg and so rides with 80, has a
// reduced grip, carries 60 kg in 160 l, has EUR 5400 and not a tenth more, and
// asks for five years. The space at home is 300 × 160 × 220 cm behind a doorway
// of 110 × 205.
//
// The Teasel weighs 36.5 kg and is rated for 220. Its box is rated for 90 kg
// and holds 80 kg and 180 l as it comes, so all 60 kg and 160 l go there and
// nothing is bought: EUR 3290.
//
//	total    36.5 + 80 + 60 = 176.5, so 220 − 176.5 = 43.5 kg are spare
//	carried  60 kg, of a guideline of 0.8 × 74 = 59.2: 0.8 over
//	zones    box 60 of 90, rear 0 of 25, together 60 of 105
//	front    0.48 × 36.5 + 80 × 42/196 + 60 × 128/196
//	         = 17.52 + 17.142857 + 39.183673 = 73.846531 kg, 73.847 of 120
//	rear     176.5 − 73.847 = 102.653 of 125
//	home     256 × 64 × 108 cm. Doorway: 110 − 64 = 46, 205 − 108 = 97.
//	         Space: 300 − 256 = 44, 160 − 64 = 96, 220 − 108 = 112. 44 cm.
//
// Nobody grows, so it lasts all ten years. Cares for what is carried and for the hill; notes
// for the stated weight and for the limit for the rider's weight, which the
// maker does not state. The brakes are hydraulic discs, which a reduced grip
// can pull, and the rear wheel is of 559 mm and nothing odd.
//
//	load_headroom  gross 43.5/220 = 0.197727, front 46.153/120 = 0.384608,
//	               rear 22.347/125 = 0.178776, the least; of 25 %:
//	               22347/31250, weight 3
//	hill           1730.9 N × (0.089638 + 0.009960) = 172.4 N on 9 %; 74 × 1.8
//	               = 133.2 W make 133.2 × 0.976 ÷ 172.6 = 0.753 m/s, at which
//	               the lowest gear of 2.05 m turns 22 times a minute and not 50:
//	               it stands, 0, weight 1
//	carry_share    60/74 between 100 and 40 %: (14/74) ÷ 0.6 = 35/111, weight 2
//	horizon        120 of 60 months: 1, weight 3
//	rider_height   158 to 196: 18 of 19 cm is 94.7 %, over 60: 1, weight 2
//	storage_slack  44 cm, over 20: 1, weight 1
//	price          3290/5400 between 120 and 60 %:
//	               (1.2 − 0.609259) ÷ 0.6 = 319/324, weight 2
//	handling_mass  36.5 kg between 60 and 18: 23.5/42 = 47/84, weight 1
//
// 3 × 0.715104 + 2 × 0.315315 + 3 + 2 + 1 + 2 × 0.984568 + 0.559524
// = 11.304602, of 15: 75.36.
func TestTradespersonOnTheTeaselOnPaper(t *testing.T) {
	t.Parallel()
	c, profiles := demo(t)
	m, err := match.One(context.Background(), c, c.Frame("teasel"), profiles["tradesperson"], match.DefaultSettings(), match.Options{Changes: true})
	if err != nil {
		t.Fatal(err)
	}
	if m.Verdict != match.FitsWithCare || len(m.Relaxed)+len(m.Open) > 0 || m.Change != nil || m.Total != 329_000 || m.Horizon.Ends || m.Horizon.Months != 120 {
		t.Errorf("%s, relaxed %v, open %v, change %s, total %d, horizon %+v", m.Verdict, m.Relaxed, m.Open, figure(m.Change), m.Total, m.Horizon)
	}
	b := m.Build
	cargo := []fitting.CargoShare{{Carrier: "box", Zone: "box", Mass: 60 * kg, Volume: 160 * measure.Litre}}
	if len(b.AddOns)+len(b.TakenOff)+len(b.Seating) > 0 || b.Price+b.Labour != 0 || b.Weight != 0 || !slices.Equal(b.Cargo, cargo) {
		t.Errorf("build %+v", b)
	}
	onPaper := load.Sheet{
		Rider: load.Rider{Label: "A", Own: 74 * kg, Riding: 80 * kg, Estimated: true}, Bare: 36500 * g,
		Total: 176500 * g, Rating: 220 * kg, Carried: 60 * kg, Guideline: 59200 * g,
		Zones:    []load.ZoneLoad{{Zone: "box", Mass: 60 * kg, Rating: 90 * kg}, {Zone: "rear", Rating: 25 * kg}},
		Combined: []load.ZoneLoad{{Zone: "box+rear", Mass: 60 * kg, Rating: 105 * kg}},
		Axles:    true, Front: 73847 * g, Rear: 102653 * g,
		Items: []load.Item{{Kind: load.Cargo, Code: "box", Mass: 60 * kg, Spot: load.Spot{Zone: 0, Ahead: 128 * cm}}},
	}
	if diff := gocmp.Diff([]load.Sheet{onPaper}, m.Sheets); diff != "" {
		t.Errorf("sheet (− paper, + got): %s", diff)
	}
	if m.Sheets[0].Spare() != 43500*g || m.Sheets[0].HandlingMass() != 36500*g {
		t.Errorf("spare %v, handling %v", m.Sheets[0].Spare(), m.Sheets[0].HandlingMass())
	}
	if h := m.Home; !h.Fits || h.How != "flat" || h.Tightest != "space" || h.Slack != 44*cm {
		t.Errorf("home %+v", h)
	}
}

func TestTradespersonOnTheTeaselScoredOnPaper(t *testing.T) {
	t.Parallel()
	c, profiles := demo(t)
	m, err := match.One(context.Background(), c, c.Frame("teasel"), profiles["tradesperson"], match.DefaultSettings(), match.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if want := []string{"carry_guideline care", "hill care", "grip note", "weight_estimated note", "spec_missing note"}; !slices.Equal(codesOf(m), want) {
		t.Errorf("reasons %v, want %v", codesOf(m), want)
	}
	if over, field := reasonsOf(m, "carry_guideline")[0].Over, reasonsOf(m, "spec_missing")[0].Fields[0]; over != 800*g || field != "rider_max_kg" {
		t.Errorf("over by %v, not stated: %s", over, field)
	}
	var got []string
	for _, c := range m.Criteria {
		got = append(got, c.Code+" "+c.Value.RatString()+" × "+big.NewInt(c.Weight).String())
	}
	want := []string{"load_headroom 22347/31250 × 3", "hill 0 × 1", "carry_share 35/111 × 2", "horizon 1 × 3", "rider_height 1 × 2", "storage_slack 1 × 1", "price 319/324 × 2", "handling_mass 47/84 × 1"}
	if !slices.Equal(got, want) {
		t.Errorf("criteria %v, want %v", got, want)
	}
	if score := m.Score.FloatString(2); score != "75.36" {
		t.Errorf("score %s, want 75.36", score)
	}
}
