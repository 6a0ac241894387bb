package say

var sentences = [][]sentence{}
var countedSentences []counted
var begun = map[string]bool{}
