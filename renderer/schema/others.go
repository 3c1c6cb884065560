package schema

import "wythe/renderer/material"

// property is a key of a material or a climate: its name, its schema and a
// line for the writer. A test holds the names to those of the readers.
type property struct {
	name, says string
	form       any
}

var materialProperties = []property{
	{"conductivity", "0.036 W/mK; this or resistance", plain["conductivity"]},
	{"resistance", "R 4.2 per in; without per in, that of a sheet whatever its thickness", plain["resistance"]},
	{"density", "150 pcf or 2400 kg/m3", measure},
	{"specific heat", "1600 J/kgK", measure},
	{"vapor", "mu 2, 30 perm in, 0.06 perm or sd 100 m", vapor},
	{"wet", "as vapor, where the wet cup differs", vapor},
	{"compressive", "25 psi, where it carries load", measure},
	{"emissivity", "0.9", plain["number"]},
	{"hatch", "how the drawing shows it", object{{"enum", material.Hatches}}},
	{"carbon", "2.1 kg CO2e per kg, or 320 kg CO2e per m3", measure},
	{"not against", "materials that it must not touch", texts},
	{"holds to", "materials that it bonds to", texts},
	{"seal", "the seal that it makes", object{{"enum", material.SealWords}}},
	{"source", "the standard, test report or maker's sheet; shown wherever a value is used", text},
	{"note", "a remark", text},
}

var (
	texts = anyOf(text, listOf(text))
	vapor = object{{"type", "string"}}
)

var climateProperties = []property{
	{"climate", "the place", text},
	{"design", "the design conditions", ref("design conditions")},
	{"months", "twelve lines, January first: mean temperature and relative humidity", object{
		{"type", "array"}, {"minItems", 12}, {"maxItems", 12}, {"items", object{
			{"type", "array"}, {"minItems", 2}, {"maxItems", 2}, {"items", anyOf(zero, measure)},
		}},
	}},
	{"source", "where the figures come from", text},
}

var designProperties = []property{
	{"heating", "5 F: outside on the heating design day", measure},
	{"ground", "48.5 F: deep in the ground", measure},
}

// others are the definitions of materials and climates.
func (b *builder) others() object {
	place := append([]property{{"name", "what it is called", text}}, materialProperties...)
	entry := append([]property{{"material", "its name; one of the built-in table keeps that one's values where none stand here", b.names()}}, materialProperties...)
	inPlace := keyed("A material given where it is used. It stands alone: no value comes from the table.", place, "name", "hatch")
	return object{
		{"material", object{
			{"description", "A material of the table, or one in place: {name: test board, conductivity: 0.04 W/mK, hatch: rigid insulation}."},
			{"anyOf", []any{b.names(), ref("material in place")}},
		}},
		{defName("material in place"), inPlace},
		{defName("material entry"), keyed("One of the office's own materials.", entry, "material")},
		{"climate", keyed("One climate.", climateProperties, "climate", "design", "months")},
		{defName("design conditions"), keyed("The design conditions.", designProperties, "heating")},
	}
}

// names are a material's name: those known are offered, others let through.
func (b *builder) names() object {
	if len(b.materials) == 0 {
		return text
	}
	return anyOf(object{{"enum", b.materials}}, text)
}

func keyed(says string, list []property, required ...string) object {
	var properties object
	for _, p := range list {
		properties = properties.set(p.name, described(p.form, p.says))
	}
	return object{{"description", says}, {"type", "object"}, {"properties", properties}, {"required", required}, {"additionalProperties", false}}
}
