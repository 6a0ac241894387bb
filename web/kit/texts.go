package kit

// Names of the shop's texts.
const (
	ContactName    = "contact_name"
	ContactAddress = "contact_address"
	ContactPhone   = "contact_phone"
	ContactEmail   = "contact_email"
	ContactHours   = "contact_hours"
)

// TextIn is the name of a text in a language other than English.
func TextIn(name, language string) string { return name + "_" + language }
