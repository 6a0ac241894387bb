package measure

// Error says why a text is not a quantity: a code for the machine and a
// sentence for the person.
type Error struct {
	Code string
	Text string
}

func (e *Error) Error() string { return e.Text }

// TooLarge is the code of a figure that was understood and is beyond all bounds.
const TooLarge = "too_large"
