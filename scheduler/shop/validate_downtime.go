package shop

import (
	"strconv"
	"strings"
)

// OvenResource is what stands before an oven's id in Downtime.Resource.
const OvenResource = "oven:"

func (v *validator) downtime() {
	for i, d := range v.shop.Downtime {
		path := index("downtime", i)
		v.resource(path+".resource", d.Resource)
		if bad := v.doc.Bad(path+".from") || v.doc.Bad(path+".to"); !bad && d.To.Minute <= d.From.Minute {
			v.doc.Add(path+".to", "%s is not after %s, from which it lasts", d.To, d.From)
		}
	}
}

func (v *validator) resource(path, resource string) {
	if id, ok := strings.CutPrefix(resource, OvenResource); ok && id != "" {
		v.ids.ovens.Refer(path, id)
		return
	}
	name, position, numbered := strings.Cut(resource, "/")
	var stage Stage
	if stage.UnmarshalText([]byte(name)) != nil {
		v.doc.Add(path, `%q is neither "oven:ID" nor a stage nor "stage/POSITION"`, resource)
		return
	}
	if station := "stations." + name; numbered && !v.doc.Bad(station+".positions") {
		v.position(path, position, stage)
	}
}

func (v *validator) position(path, stated string, stage Stage) {
	positions := v.shop.Stations.At(stage).Positions
	n, err := strconv.Atoi(stated)
	if err != nil || n < 1 || n > positions || strconv.Itoa(n) != stated {
		v.doc.Add(path, "%q is no position of %s, which are 1 to %d", stated, stage, positions)
	}
}
