package web

import (
	"net/http"
	"slices"
	"strconv"

	"kinwain/internal/staff"
	"kinwain/internal/store"
	"kinwain/web/page"
)

const tokensAddress = "/settings/tokens"

// tokenDays are how long a token may last.
var tokenDays = []page.Option{{Value: "30", Label: "30 days"}, {Value: "90", Label: "90 days"}, {Value: "365", Label: "365 days"}}

func (s *server) tokens(w http.ResponseWriter, r *http.Request) error {
	return s.showTokens(w, r, page.Tokens{Said: s.sessions.PopString(r.Context(), saidKey)}, http.StatusOK)
}

func (s *server) showTokens(w http.ResponseWriter, r *http.Request, v page.Tokens, status int) error {
	list, err := s.Store.APITokens(r.Context())
	if err != nil {
		return err
	}
	v.Shell = s.deskShell(r, "API tokens")
	for _, t := range list {
		v.Tokens = append(v.Tokens, s.tokenView(t))
	}
	if len(v.Fields) == 0 {
		v.Fields = tokenFields("", "90", "")
	}
	return render(r.Context(), w, status, page.TokensPage(v))
}

func tokenFields(label, days, fault string) []page.Field {
	name := labelField(label, fault)
	name.Hint = "The program that will send it, such as “web site”"
	return []page.Field{name,
		{Name: "scope", Label: "What it may do", Value: scopeMatches, Options: []page.Option{{Value: scopeMatches, Label: "Ask for matches"}}},
		{Name: "days", Label: "How long it lasts", Value: days, Options: tokenDays}}
}

func (s *server) tokenView(t store.APIToken) page.Token {
	v := page.Token{ID: id(t.ID), Label: t.Label, Scope: t.Scope, State: "Works", Live: true, Used: "Never used.",
		Made: "Made by " + t.MadeBy + ", " + s.day(t.Created) + ".", Until: "Until " + s.day(t.Expires) + "."}
	if !t.LastUsed.IsZero() {
		v.Used = "Last used " + t.LastUsed.In(s.Now().Location()).Format("2 January 2006, 15:04") + "."
	}
	switch {
	case t.Revoked:
		v.State, v.Live = "Revoked", false
	case !s.Now().Before(t.Expires):
		v.State, v.Live = "Expired", false
	}
	return v
}

// issueToken makes a token and shows it, this once.
func (s *server) issueToken(w http.ResponseWriter, r *http.Request) error {
	values, err := postedValues(r)
	if err != nil {
		return err
	}
	days, err := strconv.Atoi(values.Get("days"))
	if err != nil || !slices.ContainsFunc(tokenDays, func(o page.Option) bool { return o.Value == values.Get("days") }) || values.Get("scope") != scopeMatches {
		return errForm
	}
	label := staff.Name(values.Get("label"))
	if fault := labelFault(label); fault != "" {
		return s.showTokens(w, r, page.Tokens{Fields: tokenFields(values.Get("label"), values.Get("days"), fault)}, http.StatusUnprocessableEntity)
	}
	now := s.Now()
	token, err := s.Store.IssueAPIToken(r.Context(), store.APIToken{Label: label, Scope: scopeMatches, MadeBy: who(r).name, Created: now, Expires: now.AddDate(0, 0, days)})
	if err != nil {
		return err
	}
	return s.showTokens(w, r, page.Tokens{Issued: &page.Issued{Title: "The token for " + label, Value: token,
		Text: "Copy it now: it is not shown again. The program sends it with every request, as “Authorization: Bearer …”."}}, http.StatusOK)
}

func (s *server) revokeToken(w http.ResponseWriter, r *http.Request) error {
	n, err := pathID(r)
	if err != nil {
		return err
	}
	if err := s.Store.RevokeAPIToken(r.Context(), n, s.Now()); err != nil {
		return err
	}
	return s.done(w, r, tokensAddress, "That token opens nothing any more.")
}
