package kit

import (
	"bytes"
	"encoding/json"
	"fmt"
	"time"

	"github.com/alexedwards/scs/v2"
)

// Codec writes sessions so that the same session is always the same bytes: the
// store then sees that nothing is new, and writes nothing. A session keeps
// texts, whole numbers, and yes or no.
type Codec struct{}

type session struct {
	Deadline time.Time      `json:"deadline"`
	Values   map[string]any `json:"values"`
}

// Encode writes a session.
func (Codec) Encode(deadline time.Time, values map[string]any) ([]byte, error) {
	for name, value := range values {
		switch value.(type) {
		case string, int64, bool:
		default:
			return nil, fmt.Errorf("a session cannot keep %s, which is a %T", name, value)
		}
	}
	return json.Marshal(session{deadline, values})
}

// Decode reads what Encode has written, and what the first releases have.
func (Codec) Decode(data []byte) (time.Time, map[string]any, error) {
	if !bytes.HasPrefix(data, []byte("{")) {
		return scs.GobCodec{}.Decode(data)
	}
	decoder := json.NewDecoder(bytes.NewReader(data))
	decoder.UseNumber()
	s := session{Values: map[string]any{}}
	if err := decoder.Decode(&s); err != nil {
		return time.Time{}, nil, err
	}
	for name, value := range s.Values {
		if number, is := value.(json.Number); is {
			whole, err := number.Int64()
			if err != nil {
				return time.Time{}, nil, err
			}
			s.Values[name] = whole
		}
	}
	return s.Deadline, s.Values, nil
}
