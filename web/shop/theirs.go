package shop

import (
	"net/http"
	"net/url"

	"kinwain/web/say"
)

// wasSuffix ends the name of a hidden field: what the field behind it showed
// when the page was opened.
const wasSuffix = ".was"

// merge takes over what stands now, by the names of the fields, where nobody
// typed anything else than the page showed: otherwise a page that was opened
// earlier would put back what somebody else has saved since. It returns what
// stands now in the fields that both have changed.
func merge(posted url.Values, stands map[string]string) (theirs map[string]string) {
	theirs = map[string]string{}
	for name, now := range stands {
		was, typed := posted.Get(name+wasSuffix), tidy(posted.Get(name))
		switch {
		case !posted.Has(name+wasSuffix) || now == was || now == typed:
		case typed == was:
			posted.Set(name, now)
		default:
			theirs[name] = now
		}
	}
	return theirs
}

// noteTheirs says at every field that both have changed what stands there now.
// It goes before any other fault, for it is told once: the page drawn with it
// shows what stands, and what is typed in it counts against that.
func noteTheirs(faults, theirs map[string]string) {
	for name, now := range theirs {
		faults[name] = "Somebody has set this to “" + now + "” since you opened the page. Save again to put yours over it."
		if now == "" {
			faults[name] = "Somebody has emptied this since you opened the page. Save again to put yours over it."
		}
	}
}

// keepTheirs notes with every field what stands there now.
func (s *Settings) keepTheirs(stands map[string]string) {
	for _, g := range s.Groups {
		for i := range g.Fields {
			g.Fields[i].Was = stands[g.Fields[i].Name]
		}
	}
}

// refuse says over the fields that nothing was saved and why, and returns the
// status of that answer.
func (s *Settings) refuse(faults, theirs map[string]string) int {
	if len(theirs) == 0 {
		s.Faults = faultsWords(len(faults))
		return http.StatusUnprocessableEntity
	}
	s.Faults = "Nothing was saved: somebody else has changed " + say.Counted(len(theirs), "field", "fields") + " that you changed too. What you typed is still here."
	return http.StatusConflict
}
