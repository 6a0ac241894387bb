package inventory

import (
	"net/http"
	"strings"

	"kinwain/internal/catalog/sheet"
	"kinwain/web/kit"
	"kinwain/web/say"
)

const dictionaryAddress = kit.ImportAddress + "/columns"

// Dictionary says what the columns of the tables hold.
type Dictionary struct {
	kit.Shell
	Tabs          []kit.Step
	Action, Query string
	Blank, Back   string
	None          bool // no column is found
	Tables        []DictionaryTable
}

// DictionaryTable is one table of the spreadsheet.
type DictionaryTable struct {
	Name    string
	Columns []DictionaryColumn
}

// DictionaryColumn is what a column holds. Its anchor is table.column.
type DictionaryColumn struct {
	ID, Name, Also string
	Label, Holds   string
	Range, Hint    string
	Needed         bool
}

// dictionary shows what the columns hold: all, or those that have something in
// them.
func (room *Room) dictionary(w http.ResponseWriter, r *http.Request) error {
	view := Dictionary{Shell: room.inventoryShell(r, "What each column holds"), Tabs: tabs("In and out"), Action: dictionaryAddress, Query: query(r), Blank: exportAddress + "?format=blank", Back: kit.ImportAddress, None: true}
	for _, t := range sheet.Dictionary() {
		table := DictionaryTable{Name: t.Name}
		for _, c := range t.Columns {
			if !hasAll(view.Query, t.Name, c.Name, c.Also, c.Label, c.Holds, c.Hint) {
				continue
			}
			view.None = false
			table.Columns = append(table.Columns, DictionaryColumn{ID: t.Name + "." + c.Name, Name: c.Name, Also: c.Also, Label: say.Capital(c.Label),
				Holds: c.Holds, Range: c.Range, Hint: c.Hint, Needed: c.Needed})
		}
		if len(table.Columns) > 0 {
			view.Tables = append(view.Tables, table)
		}
	}
	return kit.Render(r.Context(), w, http.StatusOK, DictionaryPage(view))
}

// hasAll reports whether every word that is looked for stands in some text.
func hasAll(query string, texts ...string) bool {
	all := strings.ToLower(strings.Join(texts, "\n"))
	for _, word := range strings.Fields(strings.ToLower(query)) {
		if !strings.Contains(all, word) {
			return false
		}
	}
	return true
}
