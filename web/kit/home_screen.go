package kit

// ManifestAddress is where a browser reads what the app is on a home screen.
const ManifestAddress = "/manifest.webmanifest"

// The ground of every page, which the browser's own bars go on with.
const (
	LightPaper = "#f4f7f9"
	DarkPaper  = "#0c1620"
)
