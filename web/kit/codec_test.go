package kit

import (
	"bytes"
	"reflect"
	"testing"
	"time"

	"github.com/alexedwards/scs/v2"
)

func TestCodec(t *testing.T) {
	t.Parallel()
	deadline := time.Date(2026, 11, 25, 9, 30, 0, 1, time.UTC)
	values := map[string]any{"role": "manager", "person": int64(1)<<62 + 1, "epoch": int64(0), "said": "“{”", "kept": true}
	first, err := Codec{}.Encode(deadline, values)
	if err != nil {
		t.Fatal(err)
	}
	for range 20 {
		if again, err := (Codec{}).Encode(deadline, values); err != nil || !bytes.Equal(first, again) {
			t.Fatalf("%s, then %s, %v", first, again, err)
		}
	}
	early, err := scs.GobCodec{}.Encode(deadline, values)
	if err != nil {
		t.Fatal(err)
	}
	for _, data := range [][]byte{first, early} {
		d, v, err := Codec{}.Decode(data)
		if err != nil || !d.Equal(deadline) || !reflect.DeepEqual(v, values) {
			t.Errorf("%v, %v, %v", d, v, err)
		}
	}
	if _, err := (Codec{}).Encode(deadline, map[string]any{"half": 0.5}); err == nil {
		t.Error("what would be read back as something else is kept")
	}
	for _, damaged := range []string{"", "{", `{"values":{"person":0.5}}`, "gob"} {
		if _, _, err := (Codec{}).Decode([]byte(damaged)); err == nil {
			t.Errorf("%q is a session", damaged)
		}
	}
}
