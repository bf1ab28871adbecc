package check_test

import "reflect"

// copied returns a value that shares nothing with another but what nobody can
// change: reading it from its file anew takes several times as long.
func copied[T any](v *T) *T {
	c := *v
	part(reflect.ValueOf(&c).Elem())
	return &c
}

// part gives a value copies of its own of all that it refers to.
func part(v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			own := reflect.New(v.Type().Elem())
			own.Elem().Set(v.Elem())
			part(own.Elem())
			v.Set(own)
		}
	case reflect.Slice:
		if !v.IsNil() {
			own := reflect.MakeSlice(v.Type(), v.Len(), v.Len())
			reflect.Copy(own, v)
			v.Set(own)
			partEach(v)
		}
	case reflect.Array:
		partEach(v)
	case reflect.Map:
		partMap(v)
	case reflect.Struct:
		for i := range v.NumField() {
			if field := v.Field(i); field.CanSet() {
				part(field)
			}
		}
	}
}

func partEach(v reflect.Value) {
	for i := range v.Len() {
		part(v.Index(i))
	}
}

func partMap(v reflect.Value) {
	if v.IsNil() {
		return
	}
	own := reflect.MakeMapWithSize(v.Type(), v.Len())
	for of := v.MapRange(); of.Next(); {
		value := reflect.New(v.Type().Elem()).Elem()
		value.Set(of.Value())
		part(value)
		own.SetMapIndex(of.Key(), value)
	}
	v.Set(own)
}
