package match

import (
	"context"

	"kinwain/internal/catalog"
	"kinwain/internal/fitting"
	"kinwain/internal/profile"
)

// ByHand judges a frame with add-ons that somebody chose: the codes of all
// that is on the bike, what it comes with included, each as often as it is
// fitted. Besides the reasons of One it names what keeps the add-ons from
// being put together. The error is that of the context.
func ByHand(ctx context.Context, c *catalog.Catalogue, f *catalog.Frame, p *profile.Profile, s Settings, fitted []string) (*Match, error) {
	return NewReady(c).ByHand(ctx, f, p, s, fitted)
}

// Alternatives judges a frame once for each of profile.Objectives, in their
// order. The error is that of the context.
func Alternatives(ctx context.Context, c *catalog.Catalogue, f *catalog.Frame, p *profile.Profile, s Settings) ([]*Match, error) {
	var list []*Match
	for _, objective := range profile.Objectives {
		other := *p
		other.Objective = objective
		m, err := One(ctx, c, f, &other, s, Options{})
		if err != nil {
			return nil, err
		}
		list = append(list, m)
	}
	return list, nil
}

func misfitReasons(misfits []fitting.Misfit) []Reason {
	var reasons []Reason
	for _, m := range misfits {
		r := Reason{Code: Code(m.Code), Weight: Stop, AddOn: m.AddOn.Code}
		what := AddOn{m.AddOn.Code, m.AddOn.Name, true}
		switch m.Code {
		case fitting.MountFull:
			r.Message = say("The mount %v is %v over what it holds; the %v is one of those on it.", wordOf(m.Mount), m.Over, AddOn{Code: what.Code, Name: what.Name})
		case fitting.Excluded:
			r.Message = say("%v and %v do not go together.", what, AddOn{Code: m.Other.Code, Name: m.Other.Name})
		case fitting.TooMany:
			r.Message = say("%v: %v too many.", what, m.Over)
		default:
			r.Message = say("%v needs %v.", what, needed(m.Missing))
		}
		reasons = append(reasons, r)
	}
	return reasons
}

// needed names what would meet a need.
func needed(needs []fitting.Need) any {
	var names any
	for _, n := range needs {
		var name any = AddOn{Code: n.Code, Name: n.Name.Name}
		if n.Tag != "" {
			name = say("a %v, which nothing for this frame has", wordOf(n.Tag))
		}
		if names != nil {
			name = say("%v or %v", names, name)
		}
		names = name
	}
	return names
}
