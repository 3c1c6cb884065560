package schema

import (
	"strings"

	"wythe/renderer/detail"
)

// Numbers and words of YAML reach an editor as JSON values; the reader takes
// each for the text that was written.
var (
	text = object{{"type", []string{"string", "number", "boolean"}}}
	line = object{{"type", "string"}}
	zero = object{{"const", 0}}
	// measure is a number with its unit: a digit must be in it.
	measure = object{{"type", "string"}, {"pattern", "[0-9¼-¾⅐-⅞]"}}
)

// plain are the forms that are no map of a kind.
var plain = map[string]any{
	"text":            text,
	"mark":            text,
	"edge":            anyOf(line, zero),
	"date":            object{{"type", "string"}, {"pattern", "^[0-9]{4}-[0-9]{2}-[0-9]{2}$"}},
	"slope":           measure,
	"scale":           measure,
	"pattern":         text,
	"price":           measure,
	"leakage":         measure,
	"section number":  object{{"type", "string"}, {"pattern", "^[0-9]{2} [0-9]{2} [0-9]{2}(\\.[0-9]{2})?$"}},
	"pair of lengths": measure,
	"number":          anyOf(object{{"type", "number"}}, measure),
	"count":           anyOf(object{{"type", "integer"}, {"minimum", 0}}, measure),
	"answer":          object{{"enum", []any{true, false, "true", "false", "yes", "no"}}},
	"temperature":     measure, // a bare 0 could be either scale
	"transmittance":   anyOf(object{{"type", "number"}}, measure),
	"ratio":           anyOf(zero, measure),
	"share":           anyOf(zero, measure),
	"length":          anyOf(zero, measure),
	"area":            anyOf(zero, measure),
	"volume":          anyOf(zero, measure),
	"pressure":        anyOf(zero, measure),
	"force":           anyOf(zero, measure),
	"resistance":      anyOf(zero, measure),
	"conductivity":    anyOf(zero, measure),
	"point": anyOf(
		object{{"type", "array"}, {"items", anyOf(line, zero)}, {"minItems", 2}, {"maxItems", 2}},
		object{{"type", "string"}, {"pattern", "^ *where "}},
	),
}

// named are the keys whose value is a map from a name to the form, where a
// map of a kind is otherwise one map with the keys of the kind.
var named = map[string]bool{"junction spaces": true, "junction ends": true, "part seat": true}

// onlyList are the keys that must be lists, where a list of plain values may
// otherwise be one value alone.
var onlyList = map[string]bool{"part over": true, "junction dimensions": true}

func anyOf(forms ...any) object { return object{{"anyOf", forms}} }

func ref(kind string) object { return object{{"$ref", "#/$defs/" + defName(kind)}} }

func defName(kind string) string { return strings.ReplaceAll(kind, " ", "-") }

func listOf(form any) object { return object{{"type", "array"}, {"items", form}} }

func mapOf(form any) object { return object{{"type", "object"}, {"additionalProperties", form}} }

// valueOf returns the schema of a key's value.
func (b *builder) valueOf(kind *detail.Keys, key detail.Key) any {
	var forms []any
	for _, form := range strings.Split(key.Form, " or ") {
		forms = append(forms, b.form(kind.Kind, key, form))
	}
	if len(forms) == 1 {
		return forms[0]
	}
	return anyOf(forms...)
}

func (b *builder) form(kind string, key detail.Key, form string) any {
	place := kind + " " + key.Name
	if of, ok := strings.CutPrefix(form, "list of "); ok {
		item := b.form(kind, key, of)
		if b.kinds[of] != nil {
			item = ref(of) // a list of areas is of the kind, not of the quantity
		}
		if place == "junction parts" {
			// Each item is one name with the part's keys.
			return listOf(object{{"type", "object"}, {"additionalProperties", item}, {"minProperties", 1}, {"maxProperties", 1}})
		}
		if b.kinds[of] != nil || onlyList[place] || of == "point" {
			return listOf(item)
		}
		return anyOf(item, listOf(item))
	}
	if of, ok := strings.CutPrefix(form, "map of "); ok {
		switch {
		case place == "junction ends":
			end := ref(of)
			return object{{"type", "object"}, {"propertyNames", object{{"enum", controlWords()}}}, {"additionalProperties", anyOf(end, listOf(end))}}
		case place == "part seat":
			return object{{"type", "object"}, {"additionalProperties", b.form(kind, key, of)}, {"minProperties", 1}, {"maxProperties", 1}}
		case named[place] || b.kinds[of] == nil || place == "junction levels":
			return mapOf(b.form(kind, key, of))
		}
		return ref(of)
	}
	switch {
	case form == "material":
		return ref("material")
	case form == "word":
		return object{{"enum", key.Words}}
	case plain[form] != nil:
		return plain[form]
	case b.kinds[form] != nil:
		return ref(form)
	}
	panic("schema: " + place + " has the unknown form " + form)
}

func controlWords() []string {
	out := make([]string, len(detail.Controls))
	for i, c := range detail.Controls {
		out[i] = string(c)
	}
	return out
}
