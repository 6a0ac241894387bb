package desk_test

import (
	"fmt"
	"strings"
	"testing"

	"kinwain/web/webtest"
)

// TestHowLongItLastsIsABand opens frames of every sample customer and wants the
// months between which children outgrow them, as the document has them.
func TestHowLongItLastsIsABand(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	bands := 0
	for name, document := range webtest.Customers(t) {
		matches, _ := ranked(s, document)
		address := v.Interview(document)
		for _, m := range matches[:3] {
			b := m.Band
			if b == nil || !b.Late.Ends || b.Early.Months == 0 || b.Early == b.Late {
				continue
			}
			bands++
			want := fmt.Sprintf("Between the end of %v %d and the end of %v %d, as children grow.",
				b.Early.Month.Month(), b.Early.Month.Year(), b.Late.Month.Month(), b.Late.Month.Year())
			if got := v.Get(address + "/frames/" + m.Frame.Code).Text("main"); !strings.Contains(got, want) {
				t.Errorf("%s, %s: nowhere %q", name, m.Frame.Code, want)
			}
		}
	}
	if bands < 5 {
		t.Errorf("only %d frames have a band", bands)
	}
}
