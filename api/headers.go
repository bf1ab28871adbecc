package api

import "github.com/gin-gonic/gin"

// The headers that keep a browser from doing with our answers what they are
// not for. Pages bring no inline script or style, so none is allowed.
var securityHeaders = [][2]string{
	{"Content-Security-Policy", "default-src 'self'; img-src 'self' data:; object-src 'none'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'"},
	{"X-Content-Type-Options", "nosniff"},
	{"X-Frame-Options", "DENY"},
	{"Referrer-Policy", "same-origin"},
	{"Cross-Origin-Opener-Policy", "same-origin"},
	{"Cross-Origin-Resource-Policy", "same-origin"},
	{"Permissions-Policy", "camera=(self), geolocation=(), microphone=()"},
	{"Cache-Control", "no-store"}, // assets that may be kept say so themselves
}

func headers(c *gin.Context) {
	for _, h := range securityHeaders {
		c.Header(h[0], h[1])
	}
	c.Next()
}
