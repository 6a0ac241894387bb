package kit

// Asking is what is asked before a change is saved: the change itself, and whom
// it may concern at the most.
type Asking struct {
	Changes []FieldChange
	More    string // how many are not shown
	Whom    string
	Digest  string // tells this change from others
}

// FieldChange is one field before and after a change, in words.
type FieldChange struct{ Thing, Field, Old, New string }

// Checking says how far the answers are judged again that a change may concern.
type Checking struct {
	Said    string // nothing where there is nothing to say
	Pending bool
}

// Since is what the shop has changed since something was told, or what is not
// known of it yet.
type Since struct {
	Gone    []string // what is no longer offered
	Marks   []string
	ToCheck bool
}

// Any reports whether there is anything to say.
func (s Since) Any() bool { return len(s.Gone)+len(s.Marks) > 0 || s.ToCheck }
