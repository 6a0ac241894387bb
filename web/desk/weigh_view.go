package desk

import "kinwain/web/kit"

// Weigh is the page for whom is on the scale.
type Weigh struct {
	kit.Shell
	Rider   string
	Action  string
	Version string
	Back    string
	Field   kit.Field // empty, whatever was entered
	Done    bool      // the figure is entered
	Room    string    // what is to spare then
	Next    string    // where the next rider is weighed
	NextTo  string
}
