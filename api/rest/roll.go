package rest

import (
	"context"
	"net/http"
	"net/url"
	"time"

	"blankwright/store"
	"blankwright/store/crib"
)

type rollBody struct {
	ID       string          `json:"id"`
	Prepreg  string          `json:"prepreg"`
	Lot      string          `json:"lot"`
	Place    crib.RollPlace  `json:"place" enum:"freezer,thawing,out,held,gone"`
	Frozen   bool            `json:"frozen" doc:"In the freezer, also while it is held"`
	Held     string          `json:"held,omitempty" doc:"Why it is held: by order, or because it is no longer good"`
	Received float64         `json:"received_m2"`
	Left     float64         `json:"left_m2"`
	From     time.Time       `json:"from" doc:"It is in the shop from then on"`
	Opens    time.Time       `json:"opens" doc:"From when it may be cut from as it is now: a frozen one has to thaw"`
	Shelf    time.Time       `json:"shelf" doc:"Good until then at most, frozen or not"`
	Expires  time.Time       `json:"expires" doc:"Good until then as it is now: out of the freezer its out-time may end sooner"`
	OutTime  int64           `json:"out_time_minutes" doc:"That it bears in all; 0 where none is stated"`
	Used     int64           `json:"used_minutes" doc:"Out-time used, thaw included: the freezer pauses it and gives none back"`
	Thaw     int64           `json:"thaw_minutes"`
	OutSince *time.Time      `json:"out_since,omitempty"`
	Possible []crib.RollMove `json:"possible" doc:"The moves that it can make"`
	Moved    time.Time       `json:"moved" doc:"When its last move was"`
	Rev      int64           `json:"rev"`
	At       time.Time       `json:"at" doc:"The instant that all this is told for"`
}

type rollsInput struct {
	Prepreg string         `query:"prepreg" maxLength:"200"`
	Place   crib.RollPlace `query:"place" enum:"freezer,thawing,out,held,gone" doc:"Where they are now"`
	Page
}

type rollInput struct {
	ID string `path:"id" maxLength:"200"`
}

type addRollInput struct {
	Once
	Body struct {
		ID      string     `json:"id" minLength:"1" maxLength:"60"`
		Prepreg string     `json:"prepreg" minLength:"1" maxLength:"200"`
		Lot     string     `json:"lot,omitempty" maxLength:"60"`
		M2      float64    `json:"m2" exclusiveMinimum:"0" maximum:"1000000000"`
		From    *time.Time `json:"from,omitempty" doc:"When it is in the shop; without, now"`
		Expires time.Time  `json:"expires" doc:"Its shelf life, by the maker's label"`
		OutTime int64      `json:"out_time_minutes,omitempty" minimum:"0" maximum:"5270400" doc:"That it bears in all, by the maker's data sheet; 0 states none"`
		Used    int64      `json:"used_minutes,omitempty" minimum:"0" maximum:"5270400" doc:"The out-time that it comes with"`
		Thaw    int64      `json:"thaw_minutes,omitempty" minimum:"0" maximum:"5270400" doc:"From the freezer until its bag may be opened"`
	}
}

type changeRollInput struct {
	ID string `path:"id" maxLength:"200"`
	Match
	Body struct {
		Lot     *string    `json:"lot,omitempty" maxLength:"60"`
		Left    *float64   `json:"left_m2,omitempty" exclusiveMinimum:"0" maximum:"1000000000" doc:"As measured"`
		From    *time.Time `json:"from,omitempty"`
		Expires *time.Time `json:"expires,omitempty"`
		OutTime *int64     `json:"out_time_minutes,omitempty" minimum:"0" maximum:"5270400"`
		Thaw    *int64     `json:"thaw_minutes,omitempty" minimum:"0" maximum:"5270400"`
		Remark  string     `json:"remark,omitempty" maxLength:"200" doc:"Why, for its history"`
	}
}

type rollMoveBody struct {
	At     time.Time      `json:"at"`
	By     string         `json:"by"`
	Move   string         `json:"move" doc:"A move, or entered or corrected"`
	Place  crib.RollPlace `json:"place" doc:"Where it was after it"`
	M2     float64        `json:"m2,omitempty" doc:"That was drawn, came or was given back, or that a correction added"`
	Remark string         `json:"remark,omitempty"`
}

// RollAt is what every move of a roll may say. It is exported for huma.
type RollAt struct {
	Rev    Revision   `json:"rev,omitempty" doc:"The revision that the caller saw: another one is refused; without, any will do"`
	At     *time.Time `json:"at,omitempty" doc:"When it was; without, now"`
	Remark string     `json:"remark,omitempty" maxLength:"200"`
}

type rollMoveInput struct {
	ID string `path:"id" maxLength:"200"`
	Once
	Body *RollAt
}

type drawRollInput struct {
	ID string `path:"id" maxLength:"200"`
	Once
	Body struct {
		RollAt
		M2 float64 `json:"m2" exclusiveMinimum:"0" maximum:"1000000000"`
	}
}

type clearRollInput struct {
	ID string `path:"id" maxLength:"200"`
	Once
	Body struct {
		RollAt
		OutTime int64      `json:"out_time_minutes,omitempty" minimum:"0" maximum:"5270400" doc:"That it bears in all from now on, by whoever retested it"`
		Expires *time.Time `json:"expires,omitempty" doc:"Its shelf life from now on"`
	}
}

func rolls(r *routes) {
	add(r, operation{
		name: "list-rolls", method: "GET", path: "/rolls", tag: "material", does: "Rolls of prepreg, by id", more: "Those that are gone only where asked for.",
	}, r.listRolls)
	add(r, operation{
		name: "read-roll", method: "GET", path: "/rolls/{id}", tag: "material", does: "One roll, as it is now",
	}, func(ctx context.Context, in *rollInput) (*revAnswer[rollBody], error) {
		return answerRoll(r.Books.Roll(ctx, in.ID))
	})
	add(r, operation{
		name: "add-roll", method: "POST", path: "/rolls", tag: "material", status: http.StatusCreated,
		does: "Enter a roll that came, or is expected", more: "It begins in the freezer.",
	}, r.addRoll)
	add(r, operation{
		name: "change-roll", method: "PATCH", path: "/rolls/{id}", tag: "material", does: "Correct what the books say of a roll",
		more: "What is not named stays as it is; the out-time that it has used changes by moves alone.",
	}, r.changeRoll)
	add(r, operation{
		name: "remove-roll", may: "add-roll", method: "DELETE", path: "/rolls/{id}", tag: "material",
		does: "Remove a roll that was entered by mistake", more: "Only one to which nothing has happened since; others are discarded.",
	}, func(ctx context.Context, in *removeInput) (*nothing, error) {
		rev, err := in.rev()
		if err != nil {
			return nil, err
		}
		return &nothing{}, r.Books.RemoveRoll(ctx, in.ID, rev)
	})
	add(r, operation{
		name: "read-roll-history", method: "GET", path: "/rolls/{id}/history", tag: "material", does: "What happened to a roll, the newest first",
	}, r.readRollHistory)
	rollMoves(r)
}

// rollMoves adds one operation for each move of a roll.
func rollMoves(r *routes) {
	for _, m := range []struct {
		name string
		move crib.RollMove
		does string
	}{
		{"take-out-roll", crib.TakeOut, "Take a roll out of the freezer"},
		{"put-in-roll", crib.PutIn, "Put a roll back into the freezer"},
		{"hold-roll", crib.HoldIt, "Hold a roll: nobody cuts from it until it is cleared"},
		{"discard-roll", crib.Discard, "Discard a roll"},
	} {
		add(r, operation{
			name: m.name, method: "POST", path: "/rolls/{id}/" + string(m.move), tag: "material", shape: stale, does: m.does,
		}, func(ctx context.Context, in *rollMoveInput) (*revAnswer[rollBody], error) {
			var at RollAt
			if in.Body != nil {
				at = *in.Body
			}
			return r.moveRoll(in.in(ctx), in.ID, at, crib.RollOrder{Move: m.move})
		})
	}
	add(r, operation{
		name: "draw-roll", method: "POST", path: "/rolls/{id}/draw", tag: "material", shape: stale, does: "Take some area from a roll",
		more: "What is cut for released work is drawn by its reports; this is for all else.",
	}, func(ctx context.Context, in *drawRollInput) (*revAnswer[rollBody], error) {
		return r.moveRoll(in.in(ctx), in.ID, in.Body.RollAt, crib.RollOrder{Move: crib.Draw, M2: in.Body.M2})
	})
	add(r, operation{
		name: "clear-roll", method: "POST", path: "/rolls/{id}/clear", tag: "material", shape: stale, does: "Let a held roll be used again",
		more: "One that is past its out-time or shelf life needs a longer one, from whoever answers for the retest.",
	}, func(ctx context.Context, in *clearRollInput) (*revAnswer[rollBody], error) {
		return r.moveRoll(in.in(ctx), in.ID, in.Body.RollAt, crib.RollOrder{
			Move: crib.Clear, Limit: minutes(in.Body.OutTime), Shelf: stated(in.Body.Expires),
		})
	})
}

func (r *routes) moveRoll(ctx context.Context, id string, at RollAt, o crib.RollOrder) (*revAnswer[rollBody], error) {
	o.At, o.Remark = stated(at.At), at.Remark
	return answerRoll(r.Books.MoveRoll(ctx, store.Seen{ID: id, Rev: int64(at.Rev)}, o))
}

func minutes(count int64) time.Duration { return time.Duration(count) * time.Minute }

func (r *routes) listRolls(ctx context.Context, in *rollsInput) (*listAnswer[rollBody], error) {
	list, err := r.Books.Rolls(ctx, store.RollFilter{Prepreg: in.Prepreg, Place: in.Place, After: in.After, Limit: in.Limit})
	return paged(in.Page, list, err, rollOf, func(r *store.Roll) string { return r.ID })
}

func (r *routes) addRoll(ctx context.Context, in *addRollInput) (*madeAnswer[rollBody], error) {
	roll, err := r.Books.AddRoll(in.in(ctx), store.NewRoll{
		ID: in.Body.ID, Prepreg: in.Body.Prepreg, Lot: in.Body.Lot, M2: in.Body.M2, From: stated(in.Body.From), Shelf: in.Body.Expires.UTC(),
		Limit: minutes(in.Body.OutTime), Used: minutes(in.Body.Used), Thaw: minutes(in.Body.Thaw),
	})
	if err != nil {
		return nil, err
	}
	return &madeAnswer[rollBody]{Base + "/rolls/" + url.PathEscape(roll.ID), etag(roll.Rev), rollOf(&roll)}, nil
}

func (r *routes) changeRoll(ctx context.Context, in *changeRollInput) (*revAnswer[rollBody], error) {
	rev, err := in.rev()
	if err != nil {
		return nil, err
	}
	change := store.RollChange{Lot: in.Body.Lot, Left: in.Body.Left, From: in.Body.From, Shelf: in.Body.Expires, Remark: in.Body.Remark}
	if in.Body.OutTime != nil {
		change.Limit = new(minutes(*in.Body.OutTime))
	}
	if in.Body.Thaw != nil {
		change.Thaw = new(minutes(*in.Body.Thaw))
	}
	return answerRoll(r.Books.ChangeRoll(ctx, in.ID, change, rev))
}

func (r *routes) readRollHistory(ctx context.Context, in *historyInput) (*listAnswer[rollMoveBody], error) {
	moves, err := r.Books.RollHistory(ctx, in.ID, in.Limit)
	return listed(moves, err, func(m *store.RollMove) rollMoveBody {
		return rollMoveBody{m.At, m.Actor, m.Move, m.To, m.M2, m.Remark}
	})
}

func answerRoll(roll store.Roll, err error) (*revAnswer[rollBody], error) {
	return told(rollOf(&roll), roll.Rev, err)
}

func rollOf(r *store.Roll) rollBody {
	return rollBody{
		ID: r.ID, Prepreg: r.Prepreg, Lot: r.Lot, Place: r.Where, Frozen: r.Frozen(), Held: r.Why,
		Received: r.Received, Left: r.Left, From: r.From, Opens: r.Opens(r.At), Shelf: r.Shelf, Expires: r.GoodTil,
		OutTime: int64(r.Limit / time.Minute), Used: int64(r.OutFor / time.Minute), Thaw: int64(r.Thaw / time.Minute),
		OutSince: optional(r.OutSince), Possible: append([]crib.RollMove{}, r.Moves...), Moved: r.Moved, Rev: r.Rev, At: r.At,
	}
}
