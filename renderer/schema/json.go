package schema

import (
	"bytes"
	"encoding/json"
)

// object is a JSON object whose members keep their order.
type object []member

type member struct {
	name  string
	value any
}

// set returns the object with one more member.
func (o object) set(name string, value any) object { return append(o, member{name, value}) }

// MarshalJSON writes the members in order.
func (o object) MarshalJSON() ([]byte, error) {
	b := []byte{'{'}
	for i, m := range o {
		if i > 0 {
			b = append(b, ',')
		}
		name, err := json.Marshal(m.name)
		if err != nil {
			return nil, err
		}
		value, err := json.Marshal(m.value)
		if err != nil {
			return nil, err
		}
		b = append(append(append(b, name...), ':'), value...)
	}
	return append(b, '}'), nil
}

// print returns the object as a file.
func (o object) print() []byte {
	compact, err := json.Marshal(o)
	if err != nil {
		panic(err) // made of strings, numbers and lists alone
	}
	var b bytes.Buffer
	if err := json.Indent(&b, compact, "", "  "); err != nil {
		panic(err)
	}
	b.WriteByte('\n')
	return b.Bytes()
}
