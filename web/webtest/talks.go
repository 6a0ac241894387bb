package webtest

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"strconv"
	"strings"
)

// Talks begins so many consultations with invented customers, alone, in pairs and
// with children, and returns their ids. The same number of a number is the same
// customer in every shop.
func (s *Shop) Talks(n int) []string {
	s.Helper()
	var ids []string
	for i := range n {
		answers, err := json.Marshal(map[string]any{"values": talk(rand.New(rand.NewPCG(uint64(i), 7))), "unknown": []string{}}) //nolint:gosec // the same in every run
		if err != nil {
			s.Fatal(err)
		}
		c, err := s.Store.CreateConsultation(s.Context(), strings.ToLower(fmt.Sprintf("talk%022d", i)), fmt.Sprintf("Customer Quillon %d", i), answers, s.Clock())
		if err != nil {
			s.Fatal(err)
		}
		ids = append(ids, c.ID)
	}
	return ids
}

// talk is what a customer says, by the names of the fields.
func talk(r *rand.Rand) map[string]string {
	values := map[string]string{}
	say := func(name string, n int) { values[name] = strconv.Itoa(n) }
	for i := range 1 + r.IntN(2) {
		rider := fmt.Sprintf("riders[%d].", i)
		values[rider+"label"] = fmt.Sprintf("Rider Quillon %d", i)
		say(rider+"height_cm", 148+r.IntN(50))
		say(rider+"weight_kg", 48+r.IntN(70))
	}
	for i := range r.IntN(4) {
		child := fmt.Sprintf("passengers[%d].", i)
		values[child+"label"] = fmt.Sprintf("Child Quillon %d", i)
		values[child+"born"] = fmt.Sprintf("%d-%02d", 2019+r.IntN(6), 1+r.IntN(12))
		values[child+"sits_unaided"] = "yes"
	}
	if r.IntN(3) == 0 {
		say("cargo_kg", 5+r.IntN(60))
		say("cargo_litres", 20+r.IntN(150))
	}
	if r.IntN(6) == 0 {
		say("pet_kg", 4+r.IntN(30))
	}
	if r.IntN(2) == 0 {
		say("home.length_cm", 170+r.IntN(120))
		say("home.width_cm", 70+r.IntN(50))
		say("home.doorways[0].width_cm", 68+r.IntN(40))
		say("home.doorways[0].height_cm", 200)
	}
	if r.IntN(2) == 0 {
		say("budget_cents", 1500+r.IntN(5000))
	}
	say("years", 1+r.IntN(6))
	return values
}
