package compare_test

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"kinwain/internal/compare"
	"kinwain/internal/match"
)

func stated(figures ...int64) []compare.Cell {
	var cells []compare.Cell
	for _, n := range figures {
		cells = append(cells, compare.Cell{State: compare.Stated, Figure: n})
	}
	return cells
}

func TestWinner(t *testing.T) {
	t.Parallel()
	none, partial, open := compare.Cell{State: compare.None}, compare.Cell{State: compare.Partial, Figure: 99}, compare.Cell{}
	for name, c := range map[string]struct {
		better compare.Better
		cells  []compare.Cell
		want   compare.Win // Lead 0: nobody
	}{
		"more":                     {compare.More, stated(10, 41, 20), compare.Win{Best: 1, Next: 2, Lead: 21}},
		"less":                     {compare.Less, stated(10, 41, 20), compare.Win{Best: 0, Next: 2, Lead: 10}},
		"first, then better":       {compare.More, stated(30, 20, 40, 35), compare.Win{Best: 2, Next: 3, Lead: 5}},
		"falling":                  {compare.More, stated(3, 2), compare.Win{Best: 0, Next: 1, Lead: 1}},
		"under zero":               {compare.More, stated(-5, -3), compare.Win{Best: 1, Next: 0, Lead: 2}},
		"two are best":             {compare.More, stated(41, 10, 41), compare.Win{}},
		"all the same":             {compare.Less, stated(7, 7), compare.Win{}},
		"nobody is better":         {compare.Neither, stated(1, 2), compare.Win{}},
		"one is not stated":        {compare.More, append(stated(1, 2), open), compare.Win{}},
		"not stated comes first":   {compare.More, append([]compare.Cell{open}, stated(1, 2)...), compare.Win{}},
		"one has none":             {compare.Less, append([]compare.Cell{none}, stated(4, 9)...), compare.Win{Best: 1, Next: 2, Lead: 5}},
		"only one competes":        {compare.More, append(stated(9), none, partial), compare.Win{}},
		"a part is no competition": {compare.More, append([]compare.Cell{partial}, stated(9, 8)...), compare.Win{Best: 1, Next: 2, Lead: 1}},
	} {
		row := compare.Row{Better: c.better, Cells: c.cells}
		if got, ok := row.Winner(); got != c.want || ok != (c.want.Lead > 0) {
			t.Errorf("%s: %+v, %v, want %+v", name, got, ok, c.want)
		}
	}
}

func TestSame(t *testing.T) {
	t.Parallel()
	a := compare.Cell{State: compare.Stated, Figure: 5, Words: "flat"}
	for name, other := range map[string]compare.Cell{
		"state": {State: compare.Partial, Figure: 5, Words: "flat"}, "figure": {State: compare.Stated, Figure: 6, Words: "flat"}, "words": {State: compare.Stated, Figure: 5, Words: "turned"},
	} {
		row := compare.Row{Cells: []compare.Cell{a, a, other}}
		if row.Same() {
			t.Errorf("another %s is the same", name)
		}
	}
	if row := (compare.Row{Cells: []compare.Cell{a, a}}); !row.Same() {
		t.Error("the same is not")
	}
}

func drawRow(t *rapid.T) *compare.Row {
	cell := rapid.Custom(func(t *rapid.T) compare.Cell {
		return compare.Cell{State: rapid.SampledFrom([]compare.State{compare.NotStated, compare.Stated, compare.Stated, compare.Stated, compare.Partial, compare.None}).Draw(t, "state"),
			Figure: int64(rapid.IntRange(-3, 3).Draw(t, "figure")), Words: rapid.SampledFrom([]string{"", "x"}).Draw(t, "words")}
	})
	return &compare.Row{Better: rapid.SampledFrom([]compare.Better{compare.Neither, compare.More, compare.Less}).Draw(t, "better"), Cells: rapid.SliceOfN(cell, 2, 4).Draw(t, "cells")}
}

// TestWinnerLaws holds what a winner is, by its definition, and that the order
// of the frames changes nothing.
func TestWinnerLaws(t *testing.T) {
	t.Parallel()
	won := 0
	rapid.Check(t, func(t *rapid.T) {
		row := drawRow(t)
		win, ok := row.Winner()
		competing, better := 0, 0
		for i, c := range row.Cells {
			if c.State == compare.Stated {
				competing++
			}
			if ok && i != win.Best && c.State == compare.Stated {
				gap := row.Cells[win.Best].Figure - c.Figure
				if row.Better == compare.Less {
					gap = -gap
				}
				if gap < win.Lead || gap <= 0 {
					t.Fatalf("%+v wins, and %d is as good", win, i)
				}
				better++
			}
		}
		if ok && (competing < 2 || better != competing-1 || row.Better == compare.Neither || slices.ContainsFunc(row.Cells, func(c compare.Cell) bool { return c.State == compare.NotStated })) {
			t.Fatalf("%+v wins nothing", win)
		}
		order := rapid.Permutation([]int{0, 1, 2, 3}[:len(row.Cells)]).Draw(t, "order")
		turned := compare.Row{Better: row.Better}
		for _, i := range order {
			turned.Cells = append(turned.Cells, row.Cells[i])
		}
		again, still := turned.Winner()
		if still != ok || ok && (order[again.Best] != win.Best || again.Lead != win.Lead || row.Cells[order[again.Next]] != row.Cells[win.Next] && row.Cells[order[again.Next]].Figure != row.Cells[win.Next].Figure) {
			t.Fatalf("%+v wins, in another order %+v", win, again)
		}
		if turned.Same() != row.Same() {
			t.Fatal("the order makes a row the same")
		}
		if ok {
			won++
		}
	})
	if won == 0 { // about one row in five has one
		t.Error("no row had a winner")
	}
}

// TestSameLaw holds that folding is exactly equality: the same cells are the
// same, and one changed part of one cell is not.
func TestSameLaw(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		row := drawRow(t)
		for i := range row.Cells {
			row.Cells[i] = row.Cells[0]
		}
		if !row.Same() {
			t.Fatal("equal cells differ")
		}
		i := rapid.IntRange(0, len(row.Cells)-1).Draw(t, "changed")
		switch rapid.IntRange(0, 2).Draw(t, "part") {
		case 0:
			row.Cells[i].Figure++
		case 1:
			row.Cells[i].Words += "y"
		default:
			row.Cells[i].State = (row.Cells[i].State + 1) % 4
		}
		if row.Same() {
			t.Fatal("different cells are the same")
		}
		if _, ok := row.Winner(); ok && row.Same() {
			t.Fatal("a winner among equals")
		}
	})
}

// TestShortWords holds that every stop and care has its few words.
func TestShortWords(t *testing.T) {
	t.Parallel()
	for _, r := range match.Rules {
		if r.Weight == "note" {
			continue
		}
		if words := compare.Short(r.Code); strings.Contains(words, "_") || words == string(r.Code) && r.Code != match.ReasonStandover || len(words) > 30 {
			t.Errorf("%s in short is %q", r.Code, words)
		}
	}
}
