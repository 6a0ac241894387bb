package takehome

import (
	"slices"

	"kinwain/internal/advice"
	"kinwain/internal/catalog"
	"kinwain/internal/concern"
	"kinwain/internal/match"
	"kinwain/internal/summary"
	"kinwain/web/talk"
)

// since says in plain words what the shop has changed since the summary.
func (v *fitViewer) since(s *concern.Since, today *advice.Shop) []string {
	switch {
	case s.FrameGone:
		return []string{v.Say("The shop no longer offers this bike. Ask before you rely on this page.")}
	case len(s.AddOnsGone) > 0:
		return []string{v.Say("The shop no longer fits to this bike: %v. Ask before you rely on this page.", v.Speaker.List(v.namesOf(s.AddOnsGone)))}
	}
	return append(v.changedAnswer(s), v.changedPrice(s, &today.Catalogue.Shop)...)
}

// namesOf names add-ons, each name once.
func (v *fitViewer) namesOf(codes []string) []string {
	var names []string
	for _, code := range codes {
		if name := v.AddOnName(code); !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	return names
}

func (v *fitViewer) changedAnswer(s *concern.Since) []string {
	var said []string
	if now := s.Verdict; now != nil {
		answer := v.Say("By the shop’s figures of today the answer is: %v.", v.Say(talk.VerdictWords[now.Verdict]))
		if len(now.Reasons) > 0 && now.Verdict != match.Fits {
			answer += " " + v.first(now)
		}
		said = append(said, answer)
	}
	sheets := s.Sheets
	for _, sh := range s.Spare {
		if v.kept.Hide {
			sheets = true // what is left tells what a rider weighs
			break
		}
		said = append(said, v.Say("By the shop’s figures of today, under rider %v: %v.", sh.Rider.Label, v.SpareWords(sh)))
	}
	if sheets {
		said = append(said, v.Say("The shop has since changed weights or ratings of this bike. Ask for a new load sheet."))
	}
	switch h := s.Horizon; {
	case h == nil || v.kept.Hide && summary.HorizonTellsWeight(h):
	case !h.Ends:
		said = append(said, v.Say("By the shop’s figures of today nothing is outgrown within ten years."))
	default:
		said = append(said, v.Say("By the shop’s figures of today it lasts until the end of %v.", h.Month))
	}
	switch home := s.Home; {
	case home == nil:
	case home.Fits:
		said = append(said, v.Say("By the shop’s figures of today it gets home with %v to spare.", talk.Down(home.Slack)))
	default:
		said = append(said, v.Say("By the shop’s figures of today it does not get home."))
	}
	return said
}

// first says the weightiest reason of a match, as much of it as may be said.
func (v *fitViewer) first(m *match.Match) string {
	named, vague := m.Reasons, false
	if v.kept.Hide {
		named, vague = summary.Discreet(m)
	}
	if len(named) == 0 || vague && named[0].Weight == match.Note {
		return v.Say(vaguely)
	}
	return v.reason(m, &named[0])
}

func (v *fitViewer) changedPrice(s *concern.Since, shop *catalog.Shop) []string {
	var said []string
	if s.Price != nil {
		said = append(said, v.Say("The shop has since changed the price: now %v.", *s.Price))
	}
	if s.Tax {
		said = append(said, v.Say("The shop has since changed the tax: now %v.", shop.Tax))
	}
	return said
}
