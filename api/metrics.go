package api

import (
	"strconv"
	"time"

	"github.com/gin-gonic/gin"
	"github.com/prometheus/client_golang/prometheus"
	"github.com/prometheus/client_golang/prometheus/collectors"
	"github.com/prometheus/client_golang/prometheus/promhttp"
)

// metrics are the server's own numbers, in a registry of their own: other
// parts add theirs to it.
type metrics struct {
	registry *prometheus.Registry
	took     *prometheus.HistogramVec
	underWay prometheus.Gauge
}

func newMetrics() *metrics {
	m := &metrics{
		registry: prometheus.NewRegistry(),
		took: prometheus.NewHistogramVec(prometheus.HistogramOpts{
			Name:    "blankwright_request_seconds",
			Help:    "Time taken to answer, by method, route and status.",
			Buckets: []float64{.001, .0025, .005, .01, .025, .05, .1, .25, .5, 1, 2.5, 10},
		}, []string{"method", "route", "status"}),
		underWay: prometheus.NewGauge(prometheus.GaugeOpts{
			Name: "blankwright_requests_under_way",
			Help: "Requests that are not answered yet, streams included.",
		}),
	}
	m.registry.MustRegister(m.took, m.underWay, collectors.NewGoCollector(),
		collectors.NewProcessCollector(collectors.ProcessCollectorOpts{}))
	return m
}

// watch counts each request under the pattern of its route, never under its
// path: paths have no end.
func (m *metrics) watch(c *gin.Context) {
	begun := time.Now()
	m.underWay.Inc()
	defer m.underWay.Dec()
	c.Next()
	route := c.FullPath()
	if route == "" {
		route = "none"
	}
	m.took.WithLabelValues(c.Request.Method, route, strconv.Itoa(c.Writer.Status())).Observe(time.Since(begun).Seconds())
}

// text serves the numbers in Prometheus' text form.
func (m *metrics) text() gin.HandlerFunc {
	return gin.WrapH(promhttp.HandlerFor(m.registry, promhttp.HandlerOpts{}))
}
