package job

import (
	"encoding/json"
	"reflect"

	"github.com/invopop/jsonschema"
)

// SchemaID names the schema of the job file.
const SchemaID = "urn:axleloft:job:1"

// Schema returns the JSON Schema (draft 2020-12) of the job file: every key with what it means, its unit and its bounds. What one key
// has to do with another (names, outlines, pairs) is beyond a schema; Read checks it.
func Schema() []byte {
	defs := jsonschema.Definitions{}
	root := describe(reflect.TypeFor[Job](), field{}, defs)
	root.Ref = ""
	job := defs["Job"]
	delete(defs, "Job")
	job.Version = jsonschema.Version
	job.ID = SchemaID
	job.Title = "Axleloft job"
	job.Description = "One vehicle's rear axle: what is there, what is planned, how far it moves. Lengths mm, masses kg, forces N, angles deg. " +
		"Body axes: X forward, Y left, Z up; origin on the ground, on the vehicle's centre plane, under the rear axle centre at design ride height. " +
		"Every place is where the point is at design ride height."
	job.Definitions = defs
	out, err := json.MarshalIndent(job, "", "  ")
	if err != nil {
		panic("job: schema cannot be written") // a fault in this file, found by its test
	}
	return append(out, '\n')
}

// describe returns the schema of a type; structs go into defs and are referred to.
func describe(t reflect.Type, f field, defs jsonschema.Definitions) *jsonschema.Schema {
	switch t.Kind() {
	case reflect.Pointer:
		return describe(t.Elem(), f, defs)
	case reflect.Struct:
		if _, done := defs[t.Name()]; !done {
			group(t, defs)
		}
		return &jsonschema.Schema{Ref: "#/$defs/" + t.Name()}
	case reflect.Map:
		s := &jsonschema.Schema{Type: "object", AdditionalProperties: describe(t.Elem(), f, defs)}
		s.MaxProperties = count(maxItems)
		return s
	case reflect.Slice:
		s := &jsonschema.Schema{Type: "array", Items: describe(t.Elem(), f, defs), MaxItems: count(f.most())}
		if f.min > 0 {
			s.MinItems = count(f.min)
		}
		return s
	case reflect.Array:
		n := count(t.Len())
		return &jsonschema.Schema{Type: "array", Items: describe(t.Elem(), f, defs), MinItems: n, MaxItems: n}
	case reflect.Float64, reflect.Int:
		s := &jsonschema.Schema{Type: "number"}
		if t.Kind() == reflect.Int {
			s.Type = "integer"
		}
		if n := f.num; n != nil {
			s.Maximum = json.Number(figure(n.hi))
			if n.open {
				s.ExclusiveMinimum = json.Number(figure(n.lo))
			} else {
				s.Minimum = json.Number(figure(n.lo))
			}
		}
		return s
	case reflect.Bool:
		return &jsonschema.Schema{Type: "boolean"}
	}
	s := &jsonschema.Schema{Type: "string"}
	if len(f.words) == 1 {
		s.Const = f.words[0]
	} else {
		for _, w := range f.words {
			s.Enum = append(s.Enum, w)
		}
	}
	return s
}

// group puts the schema of a struct into defs.
func group(t reflect.Type, defs jsonschema.Definitions) {
	s := &jsonschema.Schema{Type: "object", Properties: jsonschema.NewProperties(), AdditionalProperties: jsonschema.FalseSchema}
	defs[t.Name()] = s
	for _, m := range layouts[t] {
		p := describe(t.Field(m.index).Type, m.field, defs)
		p.Description = m.field.doc
		if n := m.field.num; n != nil && n.unit != "" {
			p.Extras = map[string]any{"x-unit": n.unit}
		}
		if m.key == "name" && m.field.need {
			p.MinLength = count(1)
		}
		s.Properties.Set(m.key, p)
		if m.field.need {
			s.Required = append(s.Required, m.key)
		}
	}
	if t == reflect.TypeFor[Envelope]() {
		kinds(s)
	}
	if t == reflect.TypeFor[Arm]() {
		count12 := func(frame, axle int) *jsonschema.Schema {
			p := jsonschema.NewProperties()
			p.Set("frame", &jsonschema.Schema{MinItems: count(frame), MaxItems: count(frame)})
			p.Set("axle", &jsonschema.Schema{MinItems: count(axle), MaxItems: count(axle)})
			return &jsonschema.Schema{Properties: p}
		}
		s.OneOf = []*jsonschema.Schema{count12(2, 1), count12(1, 2)}
	}
}

// kinds adds which keys each kind of shape needs, and which it may not have.
func kinds(s *jsonschema.Schema) {
	for _, kind := range fields["Envelope.kind"].words {
		keys := shapeKeys[kind]
		when := jsonschema.NewProperties()
		when.Set("kind", &jsonschema.Schema{Const: kind})
		then := &jsonschema.Schema{Required: keys.must, Properties: jsonschema.NewProperties()}
		for _, k := range shapeOrder {
			if !contains(keys.must, k) && !contains(keys.may, k) {
				then.Properties.Set(k, jsonschema.FalseSchema)
			}
		}
		s.AllOf = append(s.AllOf, &jsonschema.Schema{
			If:   &jsonschema.Schema{Properties: when, Required: []string{"kind"}},
			Then: then,
		})
	}
}

func count(n int) *uint64 {
	u := uint64(n)
	return &u
}
