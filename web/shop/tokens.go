package shop

import (
	"net/http"
	"slices"
	"strconv"

	"kinwain/internal/staff"
	"kinwain/internal/store"
	"kinwain/web/kit"
)

const tokensAddress = kit.SettingsAddress + "/tokens"

// tokenDays are how long a token may last.
var tokenDays = []kit.Option{{Value: "30", Label: "30 days"}, {Value: "90", Label: "90 days"}, {Value: "365", Label: "365 days"}}

func (room *Room) tokens(w http.ResponseWriter, r *http.Request) error {
	return room.showTokens(w, r, Tokens{Said: room.Sessions.PopString(r.Context(), kit.SaidKey)}, http.StatusOK)
}

func (room *Room) showTokens(w http.ResponseWriter, r *http.Request, v Tokens, status int) error {
	list, err := room.store.APITokens(r.Context())
	if err != nil {
		return err
	}
	v.Shell = room.DeskShell(r, "API tokens")
	for _, t := range list {
		v.Tokens = append(v.Tokens, room.tokenView(t))
	}
	if len(v.Fields) == 0 {
		v.Fields = tokenFields("", "90", "")
	}
	return kit.Render(r.Context(), w, status, TokensPage(v))
}

func tokenFields(label, days, fault string) []kit.Field {
	name := labelField(label, fault)
	name.Hint = "The program that will send it, such as “web site”"
	return []kit.Field{name,
		{Name: "scope", Label: "What it may do", Value: kit.ScopeMatches, Options: []kit.Option{{Value: kit.ScopeMatches, Label: "Ask for matches"}}},
		{Name: "days", Label: "How long it lasts", Value: days, Options: tokenDays}}
}

func (room *Room) tokenView(t store.APIToken) Token {
	v := Token{ID: id(t.ID), Label: t.Label, Scope: t.Scope, State: "Works", Live: true, Used: "Never used.",
		Made: "Made by " + t.MadeBy + ", " + room.day(t.Created) + ".", Until: "Until " + room.day(t.Expires) + "."}
	if !t.LastUsed.IsZero() {
		v.Used = "Last used " + room.minute(t.LastUsed) + "."
	}
	switch {
	case t.Revoked:
		v.State, v.Live = "Revoked", false
	case !room.Now().Before(t.Expires):
		v.State, v.Live = "Expired", false
	}
	return v
}

// issueToken makes a token and shows it, this once.
func (room *Room) issueToken(w http.ResponseWriter, r *http.Request) error {
	values, err := kit.Posted(r)
	if err != nil {
		return err
	}
	days, err := strconv.Atoi(values.Get("days"))
	if err != nil || !slices.ContainsFunc(tokenDays, func(o kit.Option) bool { return o.Value == values.Get("days") }) || values.Get("scope") != kit.ScopeMatches {
		return kit.ErrForm
	}
	label := staff.Name(values.Get("label"))
	fault, token, now := labelFault(label), "", room.Now()
	if fault == "" {
		token, err = room.store.IssueAPIToken(r.Context(), store.APIToken{Label: label, Scope: kit.ScopeMatches, MadeBy: kit.Who(r).Name, Created: now, Expires: now.AddDate(0, 0, days)})
		if store.CodeOf(err) == store.Conflict {
			fault, err = "A token of this name works already. Revoke it first, or call this one something else.", nil
		}
	}
	if err != nil {
		return err
	}
	if fault != "" {
		return room.showTokens(w, r, Tokens{Fields: tokenFields(values.Get("label"), values.Get("days"), fault)}, http.StatusUnprocessableEntity)
	}
	return room.showTokens(w, r, Tokens{Issued: &Issued{Title: "The token for " + label, Value: token,
		Text: "Copy it now: it is not shown again. The program sends it with every request, as “Authorization: Bearer …”."}}, http.StatusOK)
}

func (room *Room) revokeToken(w http.ResponseWriter, r *http.Request) error {
	n, err := pathID(r)
	if err != nil {
		return err
	}
	if err := room.store.RevokeAPIToken(r.Context(), n, room.Now()); err != nil {
		return err
	}
	return room.Done(w, r, tokensAddress, "That token opens nothing any more.")
}
