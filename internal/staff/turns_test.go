package staff

import (
	"context"
	"errors"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/synctest"
	"time"
)

// line lets people join one after the other while somebody has the turn, and
// returns in which order they are called.
func line(t *testing.T, turns *Turns, people ...string) []string {
	t.Helper()
	var order []string
	end, err := turns.Take(t.Context(), "first of all", false)
	if err != nil {
		t.Fatal(err)
	}
	var all sync.WaitGroup
	for _, who := range people {
		name, known := strings.CutSuffix(who, " (known)")
		all.Go(func() {
			end, err := turns.Take(t.Context(), name, known)
			if err != nil {
				t.Error(err)
				return
			}
			order = append(order, who) // one has the turn at a time
			end()
		})
		synctest.Wait()
	}
	end()
	all.Wait()
	return order
}

func TestTurns(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ come, go_ string }{
		{"a b c", "c b a"},
		{"a a a b", "b a a a"},
		{"a a b b c", "c b a b a"},
		{"a b c (known)", "c (known) b a"},
		{"a a (known) a (known) b", "a (known) a (known) b a"},
	} {
		synctest.Test(t, func(t *testing.T) {
			people := strings.Fields(strings.ReplaceAll(c.come, " (", "("))
			for i := range people {
				people[i] = strings.ReplaceAll(people[i], "(", " (")
			}
			if got := strings.Join(line(t, &Turns{}, people...), " "); got != c.go_ {
				t.Errorf("who come as %s go as %s, want %s", c.come, got, c.go_)
			}
		})
	}
}

// TestTurnsSendTheCrowdAway fills the line by one and by many, and lets one
// more come who has asked for nothing yet.
func TestTurnsSendTheCrowdAway(t *testing.T) {
	t.Parallel()
	synctest.Test(t, func(t *testing.T) {
		var turns Turns
		line(t, &turns, "crowd", "crowd", "crowd")
		end, err := turns.Take(t.Context(), "crowd", false)
		if err != nil {
			t.Fatal(err)
		}
		var sent, served int
		var all sync.WaitGroup
		for range mostWaiting + 10 {
			all.Go(func() {
				end, err := turns.Take(t.Context(), "crowd", false)
				if errors.Is(err, ErrBusy) {
					sent++
					return
				}
				served++
				end()
			})
			synctest.Wait()
		}
		var order []string
		all.Go(func() {
			if end, err := turns.Take(t.Context(), "somebody else", false); err != nil || served > 0 {
				t.Errorf("%v after %d of the crowd", err, served)
			} else {
				order = append(order, "somebody else")
				end()
			}
		})
		synctest.Wait()
		end()
		all.Wait()
		if sent != 11 || served != mostWaiting-1 || !slices.Equal(order, []string{"somebody else"}) {
			t.Errorf("%d were sent away, %d served", sent, served)
		}
	})
}

// TestTurnsOfWhoLeaves holds that who waits no longer takes no turn, also where
// it comes at the same moment.
func TestTurnsOfWhoLeaves(t *testing.T) {
	t.Parallel()
	synctest.Test(t, func(t *testing.T) {
		var turns Turns
		for range 200 {
			end, err := turns.Take(t.Context(), "a", false)
			if err != nil {
				t.Fatal(err)
			}
			ctx, cancel := context.WithCancel(t.Context())
			var all sync.WaitGroup
			all.Go(func() {
				if end, err := turns.Take(ctx, "b", false); err == nil {
					end()
				}
			})
			synctest.Wait()
			all.Go(cancel)
			all.Go(end)
			all.Wait()
		}
		ctx, cancel := context.WithTimeout(t.Context(), time.Second)
		defer cancel()
		if _, err := turns.Take(ctx, "c", false); err != nil {
			t.Error("a turn was lost")
		}
	})
}
