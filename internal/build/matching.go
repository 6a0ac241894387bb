package build

// matching seats people on places by who suits whom alone: a maximum
// bipartite matching by augmenting paths.
type matching struct {
	stage   Stage
	rules   Rules
	seats   []*place
	taken   []int // per seat, by whom, or -1
	visited []bool
}

// unseated returns how many of a stage would have no place on the present set
// if ratings were no matter. Every seating is such a matching, so
// at least as many places are missing.
func (s *search) unseated(stage Stage) int {
	m := &s.seats
	m.stage, m.rules = stage, s.rules
	m.seats, m.taken, m.visited = m.seats[:0], m.taken[:0], m.visited[:0]
	for i := range s.p.framed {
		if s.usable(&s.p.framed[i]) {
			m.seats = append(m.seats, &s.p.framed[i])
		}
	}
	for i, n := range s.state.counts {
		for j := range s.p.options[i].places {
			if pl := &s.p.options[i].places[j]; n > 0 && s.usable(pl) {
				for range n {
					m.seats = append(m.seats, pl)
				}
			}
		}
	}
	for range m.seats {
		m.taken, m.visited = append(m.taken, -1), append(m.visited, false)
	}
	missing := 0
	for k := range stage {
		if !stage[k].Present {
			continue
		}
		clear(m.visited)
		if !m.augment(k) {
			missing++
		}
	}
	return missing
}

// usable reports whether the needs of a place are met by the present set.
func (s *search) usable(pl *place) bool { return s.state.metAll(pl.needs) }

func (m *matching) augment(k int) bool {
	for i, seat := range m.seats {
		if m.visited[i] || !seat.suits(&m.stage[k], m.rules) {
			continue
		}
		m.visited[i] = true
		if m.taken[i] < 0 || m.augment(m.taken[i]) {
			m.taken[i] = k
			return true
		}
	}
	return false
}
