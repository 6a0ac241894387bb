package desk

import (
	"errors"
	"io"
	"mime"
	"net/http"

	"kinwain/internal/problem"
	"kinwain/internal/profile"
	"kinwain/web/kit"
)

// matches takes a profile document and answers with the matches of the
// store's catalogue, as the match sub-command does.
func (room *Room) matches(w http.ResponseWriter, r *http.Request) error {
	if kind, _, err := mime.ParseMediaType(r.Header.Get("Content-Type")); err != nil || kind != "application/json" {
		return &kit.Failure{Status: http.StatusUnsupportedMediaType, Code: "media_type", Title: "Not a profile", Text: "Send a profile document as application/json."}
	}
	body, err := io.ReadAll(r.Body)
	if err != nil {
		return err
	}
	p, err := profile.Parse(body)
	var faults problem.List
	if errors.As(err, &faults) {
		room.FailJSON(w, http.StatusUnprocessableEntity, kit.Problems{Code: "profile", Text: "This profile cannot be judged as it is.", Problems: faults})
		return nil
	}
	if err != nil {
		return err
	}
	shop, err := room.Advice.On(r.Context(), room.Today())
	if err != nil {
		return err
	}
	done := room.timed()
	document, err := shop.Document(r.Context(), p)
	done()
	if err != nil {
		return err
	}
	w.Header().Set("Content-Type", "application/json")
	_, err = w.Write(append(document, '\n'))
	if err != nil {
		room.Log.Warn("answer not sent", "error", err)
	}
	return nil
}
