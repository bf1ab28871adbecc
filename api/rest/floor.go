package rest

import (
	"context"
	"time"

	"blankwright/scheduler/shop"
	"blankwright/store"
)

// A taskBody is a released task: as it was planned, and as it stands.
type taskBody struct {
	ID       int64     `json:"id"`
	Load     string    `json:"load"`
	Product  string    `json:"product"`
	Section  string    `json:"section"`
	Stage    string    `json:"stage" enum:"cut,tack,roll,wrap,pull,strip,trim"`
	Prepreg  string    `json:"prepreg,omitempty" doc:"What to cut it from"`
	Mandrel  string    `json:"mandrel,omitempty" doc:"The type to take, or to give back"`
	Position int       `json:"position"`
	Setup    bool      `json:"setup"`
	Planned  int       `json:"planned" doc:"Pieces as they were planned"`
	Pieces   int       `json:"pieces" doc:"That it has now; at pull mandrels"`
	Live     int       `json:"live" doc:"Of them good when it begins"`
	PlanFrom time.Time `json:"plan_from"`
	PlanTo   time.Time `json:"plan_to"`
	From     time.Time `json:"from" doc:"As reported, or else expected"`
	To       time.Time `json:"to"`
	State    string    `json:"state" enum:"waiting,begun,done"`
	Good     int       `json:"good" doc:"Once it is done"`
	Scrapped int       `json:"scrapped"`
	Dead     int       `json:"dead" doc:"At pull: pieces scrapped before, on their mandrels"`
}

// A floorLoadBody is a released load as it stands.
type floorLoadBody struct {
	Planned  *loadBody  `json:"planned"`
	Release  int64      `json:"release"`
	In       time.Time  `json:"in" doc:"As reported, or else expected"`
	Cure     time.Time  `json:"cure_start"`
	CureEnd  time.Time  `json:"cure_end"`
	Out      time.Time  `json:"out"`
	WentIn   bool       `json:"went_in"`
	CameOut  bool       `json:"came_out"`
	Finished *time.Time `json:"finished,omitempty" doc:"When the last of its work was done"`
	Tasks    []taskBody `json:"tasks,omitempty" doc:"Where one load is asked for"`
}

type taskAnswer struct{ Body taskBody }

type floorLoadAnswer struct{ Body floorLoadBody }

type queueInput struct {
	Station string `path:"station" enum:"cut,tack,roll,wrap,pull,strip,trim"`
	Day     string `path:"day" format:"date" doc:"The shop's local date"`
}

type ovenQueueInput struct {
	ID  string `path:"id" maxLength:"200" doc:"The oven's id"`
	Day string `path:"day" format:"date" doc:"The shop's local date"`
}

type floorLoadInput struct {
	ID string `path:"id" maxLength:"200" doc:"The load's id"`
}

func floor(r *routes) {
	add(r, operation{
		name: "read-queue", may: "read-floor", method: "GET", path: "/queues/{station}/{day}", tag: "floor",
		does: "What a station has on a day", more: "By position, in the order of the work: what is expected, what is being worked, and what was done.",
	}, func(ctx context.Context, in *queueInput) (*listAnswer[taskBody], error) {
		day, err := dayOf(in.Day)
		if err != nil {
			return nil, err
		}
		list, err := r.Books.Queue(ctx, in.Station, day)
		return listed(list, err, taskOf)
	})
	add(r, operation{
		name: "read-oven-queue", may: "read-floor", method: "GET", path: "/oven-queues/{id}/{day}", tag: "floor", does: "The loads that an oven has on a day",
	}, func(ctx context.Context, in *ovenQueueInput) (*listAnswer[floorLoadBody], error) {
		day, err := dayOf(in.Day)
		if err != nil {
			return nil, err
		}
		list, err := r.Books.OvenQueue(ctx, in.ID, day)
		return listed(list, err, briefLoadOf)
	})
	add(r, operation{
		name: "list-loads", may: "read-floor", method: "GET", path: "/loads", tag: "floor", does: "The released loads that are not finished, or were lately", more: "By when they go in.",
	}, func(ctx context.Context, _ *struct{}) (*listAnswer[floorLoadBody], error) {
		list, err := r.Books.FloorLoads(ctx)
		return listed(list, err, briefLoadOf)
	})
	add(r, operation{
		name: "read-load", may: "read-floor", method: "GET", path: "/loads/{id}", tag: "floor", does: "One released load, with its tasks",
	}, func(ctx context.Context, in *floorLoadInput) (*floorLoadAnswer, error) {
		load, err := r.Books.FloorLoad(ctx, in.ID)
		return &floorLoadAnswer{floorLoadOf(&load)}, err
	})
	add(r, operation{
		name: "read-task", may: "read-floor", method: "GET", path: "/tasks/{id}", tag: "floor", does: "One released task",
	}, func(ctx context.Context, in *numbered) (*taskAnswer, error) {
		task, err := r.Books.FloorTask(ctx, in.ID)
		return &taskAnswer{taskBody(task)}, err
	})
}

// dayOf reads the day of a path.
func dayOf(text string) (day shop.Date, err error) {
	if err := day.UnmarshalText([]byte(text)); err != nil {
		return 0, wrong("path.day", err.Error())
	}
	return day, nil
}

func floorLoadOf(l *store.FloorLoad) floorLoadBody {
	return floorLoadBody{
		Planned: loadOf(&l.Planned), Release: l.Release, In: l.In, Cure: l.Cure, CureEnd: l.CureEnd, Out: l.Out,
		WentIn: l.WentIn, CameOut: l.CameOut, Finished: when(l.Finished), Tasks: tasksOf(l.Tasks),
	}
}

// briefLoadOf leaves the tasks out, of which lists would have thousands.
func briefLoadOf(l *store.FloorLoad) floorLoadBody {
	brief := *l
	brief.Tasks = nil
	return floorLoadOf(&brief)
}

func tasksOf(list []store.Task) []taskBody {
	bodies := make([]taskBody, len(list))
	for i := range list {
		bodies[i] = taskOf(&list[i])
	}
	return bodies
}

func taskOf(t *store.Task) taskBody { return taskBody(*t) }
