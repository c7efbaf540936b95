package scenarios

import (
	"fmt"
	"reflect"

	"github.com/go-viper/mapstructure/v2"
)

// decodeHook lets mapstructure read a Quantity from its text. A plain number is
// read as the text that prints it, so that only ratios take one.
func decodeHook() mapstructure.DecodeHookFuncType {
	return func(_, to reflect.Type, data any) (any, error) {
		if to.Kind() != reflect.Struct {
			return data, nil
		}
		target := reflect.New(to)
		q, ok := target.Interface().(quantity)
		if !ok {
			return data, nil
		}
		switch data.(type) {
		case string, int, int64, uint64, float64:
		default:
			return data, nil
		}
		n, err := Parse(fmt.Sprint(data), q.dimension())
		if err != nil {
			return nil, err
		}
		*q.number() = n
		return target.Elem().Interface(), nil
	}
}
