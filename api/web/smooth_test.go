package web_test

import (
	"net/http"
	"slices"
	"testing"

	"blankwright/api/web/webtest"
)

// passed is what a browser counts while a page passes by, in milliseconds: between
// each two frames, and of each stretch longer than 50 in which it could do nothing else.
type passed struct{ Frames, Long []float64 }

// passing goes down the page and up again, half a window or so at a time, with a
// pointer over what passes, and folds and unfolds the lists beside the racks.
const passing = `(() => {
	window.passed = null;
	document.documentElement.style.scrollBehavior = "auto";
	const now = {Frames: [], Long: []}, steps = 40, high = document.documentElement.scrollHeight - innerHeight;
	const watch = new PerformanceObserver(list => { for (const e of list.getEntries()) now.Long.push(e.duration); });
	watch.observe({type: "longtask"});
	let n = 0, last = 0;
	const frame = at => {
		if (last) now.Frames.push(at - last);
		last = at;
		if (n++ > 2 * steps) { watch.disconnect(); window.passed = now; return; }
		scrollTo(0, high * (1 - Math.abs(n / steps - 1)));
		const under = document.elementFromPoint(200, 450);
		under?.dispatchEvent(new MouseEvent("mouseover", {bubbles: true}));
		const list = n % 5 ? null : under?.closest(".load")?.querySelector("details");
		if (list) list.open = !list.open;
		requestAnimationFrame(frame);
	};
	requestAnimationFrame(frame);
})()`

// The drawings of a season's fullest day pass by smoothly: half of the frames come
// within a thirtieth of a second, and nothing holds the browser up for longer than is
// felt. Whatever else the machine does adds to that, so the best of some tries counts.
func TestBrowser_Smooth(t *testing.T) {
	const smooth, felt, tries = 34, 200, 6
	v := browse(t)
	s, p, date := webtest.Season(t)
	page := rendered(t, "", fullDay(t, s, p, date))
	v.server.Config.Handler = http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.URL.Path != "/full-day" {
			v.house.Server.ServeHTTP(w, r)
			return
		}
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		if _, err := w.Write(page); err != nil {
			t.Error(err)
		}
	})
	v.open("/full-day")
	for try := range tries {
		value[any](v, passing)
		v.until("the page's end", `window.passed`)
		got := value[passed](v, `window.passed`)
		slices.Sort(got.Frames)
		half, longest := got.Frames[len(got.Frames)/2], slices.Max(append(got.Long, 0))
		t.Logf("%d frames, half of them within %.0f ms; longest task %.0f ms", len(got.Frames), half, longest)
		if half <= smooth && longest <= felt {
			return
		}
		if try == tries-1 {
			t.Errorf("no try was smooth: want half of the frames within %d ms, and no task above %d", smooth, felt)
		}
	}
}
