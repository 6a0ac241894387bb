package web

import (
	"net/http"
	"slices"
	"strconv"
	"time"

	"github.com/go-chi/chi/v5"
	"github.com/go-chi/chi/v5/middleware"
	"github.com/prometheus/client_golang/prometheus"
	"github.com/prometheus/client_golang/prometheus/collectors"
	"github.com/prometheus/client_golang/prometheus/promhttp"
)

// Metrics counts and times what the app does, for Prometheus. A nil *Metrics
// measures nothing.
type Metrics struct {
	registry *prometheus.Registry
	requests *prometheus.CounterVec
	duration *prometheus.HistogramVec
	solver   prometheus.Histogram
	faults   *prometheus.CounterVec
}

// NewMetrics returns metrics that have counted nothing yet.
func NewMetrics() *Metrics {
	m := &Metrics{
		registry: prometheus.NewRegistry(),
		requests: prometheus.NewCounterVec(prometheus.CounterOpts{Name: "kinwain_requests_total",
			Help: "Requests that were answered, by route pattern, method and status."}, []string{"route", "method", "status"}),
		duration: prometheus.NewHistogramVec(prometheus.HistogramOpts{Name: "kinwain_request_duration_seconds",
			Help: "From a request to the end of its answer, by route pattern.", Buckets: prometheus.DefBuckets}, []string{"route"}),
		faults: prometheus.NewCounterVec(prometheus.CounterOpts{Name: "kinwain_faults_total",
			Help: "What could not be done while the rest went on, by what it was."}, []string{"what"}),
		solver: prometheus.NewHistogram(prometheus.HistogramOpts{Name: "kinwain_solver_duration_seconds",
			Help: "To rank all frames for one customer.", Buckets: prometheus.ExponentialBuckets(0.001, 2, 15)}),
	}
	m.registry.MustRegister(m.requests, m.duration, m.solver, m.faults, collectors.NewGoCollector(), collectors.NewProcessCollector(collectors.ProcessCollectorOpts{}))
	return m
}

// Handler answers with all that was measured, as Prometheus reads it.
func (m *Metrics) Handler() http.Handler {
	return promhttp.HandlerFor(m.registry, promhttp.HandlerOpts{})
}

// measuredMethods bounds the methods that are told apart, as the patterns of
// the router bound the routes: a stranger cannot make the metrics grow.
var measuredMethods = []string{http.MethodGet, http.MethodHead, http.MethodPost}

func (m *Metrics) measure(next http.Handler) http.Handler {
	if m == nil {
		return next
	}
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		began := time.Now()
		answer := middleware.NewWrapResponseWriter(w, r.ProtoMajor)
		defer func() {
			route, method := chi.RouteContext(r.Context()).RoutePattern(), r.Method
			if route == "" || route == "/*" {
				route = "none"
			}
			if !slices.Contains(measuredMethods, method) {
				method = "other"
			}
			status := answer.Status()
			if status == 0 {
				status = http.StatusOK // the handler wrote nothing, and net/http says this
			}
			m.requests.WithLabelValues(route, method, strconv.Itoa(status)).Inc()
			m.duration.WithLabelValues(route).Observe(time.Since(began).Seconds())
		}()
		next.ServeHTTP(answer, r)
	})
}

// solving begins to time a ranking of all frames; what it returns ends that.
func (m *Metrics) solving() (done func()) {
	if m == nil {
		return func() {}
	}
	began := time.Now()
	return func() { m.solver.Observe(time.Since(began).Seconds()) }
}

// fault counts what could not be done while the rest went on. What it was is
// one of a few words of this program.
func (m *Metrics) fault(what string) {
	if m != nil {
		m.faults.WithLabelValues(what).Inc()
	}
}
