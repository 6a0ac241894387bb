package fitting

// Without returns the same problem, whose searches do without the shortcuts of
// which the bits are set.
func (p *Problem) Without(shortcuts uint8) *Problem {
	p.without = shortcut(shortcuts)
	return p
}

// Shortcuts names the shortcuts, by their bits.
var Shortcuts = []string{"covering", "heading", "needing", "zoning", "fixing", "lookahead", "diving", "pruning"}
