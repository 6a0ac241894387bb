package compare

import "kinwain/internal/match"

// Short says a reason's code in a few words, the code itself where it has none.
func Short(code match.Code) string { return match.Short(code).English }
