package inventory

import (
	"encoding/json"
	"fmt"
	"net/http"
	"strconv"

	"kinwain/internal/catalog"
	"kinwain/internal/concern"
	"kinwain/internal/figures"
	"kinwain/internal/store"
	"kinwain/web/kit"
)

// takeBackSetting gives a figure of the settings, or a text, back what it was.
func (room *Room) takeBackSetting(r *http.Request, change catalog.Change) (u undoing, err error) {
	now, err := room.settingNow(r, change.Field)
	if err != nil {
		return u, err
	}
	if now != change.New {
		return undoing{refused: fmt.Sprintf("it has changed since, and is %s now.", figureIn(change, now, ""))}, nil
	}
	back := change.Reversed()
	to := store.SettingsChange{Judged: concern.Judged()}
	var figure int64
	var words string
	switch {
	case figures.Named(change.Field) == nil && (back.New == "" || json.Unmarshal([]byte(back.New), &words) == nil):
		to.Texts = map[string]string{change.Field: words}
	case back.New == "":
		to.Reset = []string{change.Field}
	default:
		if figure, err = strconv.ParseInt(back.New, 10, 64); err != nil {
			return u, fmt.Errorf("a change of the settings cannot be read: %w", err)
		}
		to.Set = map[string]int64{change.Field: figure}
	}
	if refused, err := room.contradicts(r, to); err != nil || refused != "" {
		return undoing{refused: refused}, err
	}
	reach, err := room.watch.ReachOfSettings(r.Context(), []string{change.Field})
	if err != nil {
		return u, err
	}
	asks := kit.FieldChange{Field: historyField(change), Old: figureIn(back, back.Old, ""), New: figureIn(back, back.New, "")}
	if u.ask = kit.ToAsk(r, kit.AskingView([]kit.FieldChange{asks}, reach, kit.Digest(back)), reach); u.ask != nil {
		return u, nil
	}
	return u, room.store.ChangeSettings(r.Context(), to, room.Author(r, store.ByUndo))
}

// settingNow is what a setting is now, as the history has it.
func (room *Room) settingNow(r *http.Request, name string) (string, error) {
	set, err := room.store.Settings(r.Context())
	if err != nil {
		return "", err
	}
	texts, err := room.store.Texts(r.Context())
	if err != nil {
		return "", err
	}
	return store.SettingText(set, texts, name), nil
}

// contradicts says what keeps the figures from standing together after a change.
func (room *Room) contradicts(r *http.Request, c store.SettingsChange) (string, error) {
	set, err := room.store.Settings(r.Context())
	if err != nil {
		return "", err
	}
	for _, name := range c.Reset {
		delete(set, name)
	}
	for name, figure := range c.Set {
		set[name] = figure
	}
	for name, text := range figures.Contradictions(figures.InForce(set)) {
		return figures.Label(name) + ": " + text, nil
	}
	return "", nil
}
