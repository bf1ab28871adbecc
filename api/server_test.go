package api_test

import (
	"net/http"
	"strings"
	"testing"

	"blankwright/api"
	"blankwright/api/access"
	"blankwright/api/apitest"
)

// The server tells that it is alive and ready to anybody, and its numbers to
// who may see them.
func TestServer_Health(t *testing.T) {
	h := apitest.Open(t)
	h.As().Get("/./healthz").Must(http.StatusOK)
	h.As().Get("/./readyz").Must(http.StatusOK)
	h.As().Get("/./metrics").Must(http.StatusUnauthorized)
	numbers := string(h.As(access.Viewer).Get("/./metrics").Must(http.StatusOK).Text)
	for _, want := range []string{
		`blankwright_request_seconds_count{method="GET",route="/healthz",status="200"} 1`,
		"blankwright_requests_under_way 1",
	} {
		if !strings.Contains(numbers, want) {
			t.Errorf("the numbers lack %s", want)
		}
	}
}

// Every answer carries the request's id and the headers that keep browsers
// from misuse.
func TestServer_Headers(t *testing.T) {
	h := apitest.Open(t)
	answer := h.As().Get("/./healthz")
	for _, name := range []string{"X-Request-ID", "Content-Security-Policy", "X-Content-Type-Options", "Referrer-Policy", "X-Frame-Options"} {
		if answer.Header.Get(name) == "" {
			t.Errorf("%s is missing", name)
		}
	}
	if got := h.As().With("X-Request-ID", "given-by-proxy").Get("/./healthz").Header.Get("X-Request-ID"); got != "given-by-proxy" {
		t.Errorf("request id %q, want the one that was given", got)
	}
	if got := h.As().With("X-Request-ID", `x" forged`).Get("/./healthz").Header.Get("X-Request-ID"); strings.Contains(got, "forged") {
		t.Errorf("request id %q was taken over", got)
	}
}

// What is at no address, or asked by a wrong method or in a malformed way, is
// refused with a problem document.
func TestServer_NotThere(t *testing.T) {
	h := apitest.Open(t)
	tests := []struct {
		name, method, path string
		want               int
	}{
		{"no such address", "GET", "/nowhere", http.StatusNotFound},
		{"no such page", "GET", "/./nowhere", http.StatusNotFound},
		{"wrong method", "DELETE", "/events", http.StatusMethodNotAllowed},
		{"path that is no text", "GET", "/accounts/%ff", http.StatusBadRequest},
		{"path with a control character", "GET", "/accounts/%00", http.StatusBadRequest},
		{"query that is no text", "GET", "/events?after=%ff", http.StatusBadRequest},
		{"query that is none", "GET", "/events?after=%zz", http.StatusBadRequest},
		{"unknown query", "GET", "/accounts?frob=1", http.StatusUnprocessableEntity},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			p := h.Admin().Do(test.method, test.path, nil).Must(test.want).Problem()
			if p.Status != test.want || p.Title == "" || p.Request == "" {
				t.Errorf("the problem is not whole: %+v", p)
			}
		})
	}
}

// What another site's page has a browser send is refused; a program is not.
func TestServer_CrossOrigin(t *testing.T) {
	h := apitest.Open(t)
	body := map[string]string{"name": "Maren", "password": "not the password"}
	h.As().With("Sec-Fetch-Site", "cross-site").Do("POST", "/session", body).Must(http.StatusForbidden)
	h.As().With("Origin", "https://elsewhere.example").Do("POST", "/session", body).Must(http.StatusForbidden)
	h.As().With("Sec-Fetch-Site", "same-origin").Do("POST", "/session", body).Must(http.StatusUnauthorized)
	h.As().Do("POST", "/session", body).Must(http.StatusUnauthorized)
}

// A proxy's word on the client counts only where it is trusted.
func TestServer_Proxies(t *testing.T) {
	const client = "198.51.100.7" // RFC 5737, for documentation
	for _, test := range []struct {
		name    string
		proxies []string
		want    bool
	}{
		{"none trusted", nil, false},
		{"another trusted", []string{"203.0.113.0/24"}, false},
		{"this one trusted", []string{"192.0.2.1"}, true}, // httptest's remote address
	} {
		t.Run(test.name, func(t *testing.T) {
			h := apitest.Open(t, func(c *api.Config) { c.Proxies = test.proxies })
			h.As().With("X-Forwarded-For", client).Get("/./healthz")
			if got := strings.Contains(h.Log.String(), client); got != test.want {
				t.Errorf("the client's address was taken: %v, want %v", got, test.want)
			}
		})
	}
}

// A wrong configuration is told at once.
func TestNew_Refuses(t *testing.T) {
	_, err := api.New(api.Config{Log: noLog, Proxies: []string{"not an address"}})
	if err == nil || !strings.Contains(err.Error(), "proxies") {
		t.Errorf("error %v, want one on the proxies", err)
	}
}
