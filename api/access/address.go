package access

import (
	"context"
	"net/http"

	"github.com/gin-gonic/gin"
)

type addressKey struct{}

// An address is where a request comes from, as far as it can be trusted.
type address struct {
	ip     string
	secure bool // over TLS, here or at a proxy that is trusted
}

// withAddress keeps a request's address. What a header says of TLS counts only
// where gin took a trusted proxy's word on the client.
func withAddress(ctx context.Context, c *gin.Context) context.Context {
	a := address{ip: c.ClientIP(), secure: c.Request.TLS != nil}
	if a.ip != c.RemoteIP() && c.GetHeader("X-Forwarded-Proto") == "https" {
		a.secure = true
	}
	return context.WithValue(ctx, addressKey{}, a)
}

func addressOf(ctx context.Context) address {
	a, _ := ctx.Value(addressKey{}).(address)
	return a
}

// cookie returns the session's cookie as the address asks for it.
func (a address) cookie(c *http.Cookie) *http.Cookie {
	c.Secure = a.secure
	return c
}
