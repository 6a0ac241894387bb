package summary

import (
	"fmt"

	"kinwain/internal/match"
	"kinwain/internal/measure"
)

// message is a sentence as it is stored: its key, and figures that any
// language and any system of units can say.
type message struct {
	Says string     `json:"says"`
	Args []argument `json:"with"`
}

// argument is one figure or name within a sentence. Figures are in the small
// unit of their kind.
type argument struct {
	Kind    string            `json:"kind"`
	Number  int64             `json:"number,omitzero"`
	Text    string            `json:"text,omitzero"` // also a day, and the currency of a cost
	Code    string            `json:"code,omitzero"` // of an add-on
	Begins  bool              `json:"begins,omitzero"`
	Round   *measure.Rounding `json:"round,omitzero"` // of a figure that is shown rounded one way
	Message *message          `json:"message,omitzero"`
}

func messageOf(m match.Message) (message, error) {
	written := message{Says: m.Format}
	for _, a := range m.Args {
		arg, err := argumentOf(a)
		if err != nil {
			return message{}, fmt.Errorf("%q: %w", m.Format, err)
		}
		written.Args = append(written.Args, arg)
	}
	return written, nil
}

func argumentOf(a any) (argument, error) {
	switch a := a.(type) {
	case measure.Mass:
		return argument{Kind: "mass", Number: int64(a)}, nil
	case measure.Length:
		return argument{Kind: "length", Number: int64(a)}, nil
	case measure.Volume:
		return argument{Kind: "volume", Number: int64(a)}, nil
	case measure.Percentage:
		return argument{Kind: "percentage", Number: int64(a)}, nil
	case measure.Month:
		return argument{Kind: "month", Number: int64(a)}, nil
	case measure.Date:
		return argument{Kind: "date", Text: a.String()}, nil
	case match.Cost:
		return argument{Kind: "cost", Number: int64(a.Amount), Text: a.Currency}, nil
	case match.Label:
		return argument{Kind: "label", Text: a.Text, Begins: a.Begins}, nil
	case match.AddOn:
		return argument{Kind: "add_on", Text: a.Name, Code: a.Code, Begins: a.Begins}, nil
	case match.Word:
		return argument{Kind: "word", Text: string(a)}, nil
	case string:
		return argument{Kind: "name", Text: a}, nil
	case int:
		return argument{Kind: "number", Number: int64(a)}, nil
	case match.Rounded:
		figure, err := argumentOf(a.Figure)
		figure.Round = &a.Rounding
		return figure, err
	case match.Message:
		within, err := messageOf(a)
		return argument{Kind: "message", Message: &within}, err
	}
	return argument{}, fmt.Errorf("a %T cannot be kept in a sentence", a)
}

func (m message) message() (match.Message, error) {
	said := match.Message{Format: m.Says}
	for _, a := range m.Args {
		arg, err := a.argument()
		if err != nil {
			return match.Message{}, fmt.Errorf("%q: %w", m.Says, err)
		}
		said.Args = append(said.Args, arg)
	}
	return said, nil
}

func (a argument) argument() (any, error) {
	figure, err := a.figure()
	if err == nil && a.Round != nil {
		return match.Rounded{Figure: figure, Rounding: *a.Round}, nil
	}
	return figure, err
}

func (a argument) figure() (any, error) {
	switch a.Kind {
	case "mass":
		return measure.Mass(a.Number), nil
	case "length":
		return measure.Length(a.Number), nil
	case "volume":
		return measure.Volume(a.Number), nil
	case "percentage":
		return measure.Percentage(a.Number), nil
	case "month":
		return measure.Month(a.Number), nil
	case "date":
		return measure.ParseDate(a.Text)
	case "cost":
		return match.Cost{Amount: measure.Money(a.Number), Currency: a.Text}, nil
	case "label":
		return match.Label{Text: a.Text, Begins: a.Begins}, nil
	case "add_on":
		return match.AddOn{Code: a.Code, Name: a.Text, Begins: a.Begins}, nil
	case "word":
		return match.Word(a.Text), nil
	case "name":
		return a.Text, nil
	case "number":
		return int(a.Number), nil
	case "message":
		if a.Message != nil {
			return a.Message.message()
		}
	}
	return nil, fmt.Errorf("nothing is known of a %q in a sentence", a.Kind)
}
