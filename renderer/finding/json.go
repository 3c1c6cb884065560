package finding

import "encoding/json"

// MarshalJSON gives a finding the form in which a review prints it:
//
//	{"level": "error", "file": "a.md", "line": 9, "column": 15,
//	 "rule": "unknown-material", "message": "…", "mend": "…"}
func (i Item) MarshalJSON() ([]byte, error) {
	return json.Marshal(struct {
		Level   string `json:"level"`
		File    string `json:"file"`
		Line    int    `json:"line"`
		Column  int    `json:"column"`
		Rule    string `json:"rule"`
		Message string `json:"message"`
		Mend    string `json:"mend"`
	}{i.Level.String(), i.File, i.Line, i.Column, i.Rule, i.Message, i.Mend})
}

// MarshalJSON gives a list of findings the form of an array; an empty list is
// [], never null.
func (l List) MarshalJSON() ([]byte, error) {
	if l.Items == nil {
		return []byte("[]"), nil
	}
	return json.Marshal(l.Items)
}
