package web

import (
	"errors"
	"io"
	"mime"
	"net/http"

	"kinwain/internal/advice"
	"kinwain/internal/match"
	"kinwain/internal/problem"
	"kinwain/internal/profile"
)

// matches takes a profile document and answers with the matches of the
// store's catalogue, as the match sub-command does.
func (s *server) matches(w http.ResponseWriter, r *http.Request) error {
	if kind, _, err := mime.ParseMediaType(r.Header.Get("Content-Type")); err != nil || kind != "application/json" {
		return &failure{http.StatusUnsupportedMediaType, "media_type", "Not a profile", "Send a profile document as application/json."}
	}
	body, err := io.ReadAll(r.Body)
	if err != nil {
		return err
	}
	p, err := profile.Parse(body)
	var faults problem.List
	if errors.As(err, &faults) {
		s.failJSON(w, http.StatusUnprocessableEntity, problems{"profile", "This profile cannot be judged as it is.", faults})
		return nil
	}
	if err != nil {
		return err
	}
	shop, err := advice.On(r.Context(), s.Store, s.today())
	if err != nil {
		return err
	}
	ranked, err := s.rank(r.Context(), shop, p, match.Options{Changes: true})
	if err != nil {
		return err
	}
	document, err := match.Document(ranked)
	if err != nil {
		return err
	}
	w.Header().Set("Content-Type", "application/json")
	_, err = w.Write(append(document, '\n'))
	if err != nil {
		s.Log.Warn("answer not sent", "error", err)
	}
	return nil
}
