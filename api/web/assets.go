package web

import (
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"io/fs"
	"mime"
	"net/http"
	"path"

	"github.com/gin-gonic/gin"
)

//go:embed assets/*
var assetFiles embed.FS

// assetVersion is a digest of all assets. It stands in their addresses, so
// that a browser may keep them for ever and still never shows old ones.
var assetVersion = digest(assetFiles)

func digest(files fs.FS) string {
	sum := sha256.New()
	err := fs.WalkDir(files, ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		content, err := fs.ReadFile(files, name)
		sum.Write([]byte(name))
		sum.Write(content)
		return err
	})
	if err != nil {
		panic(err)
	}
	return hex.EncodeToString(sum.Sum(nil))[:12]
}

func assetAddress(name string) string { return "/assets/" + assetVersion + "/" + name }

// serveAsset answers with a style sheet or script.
func serveAsset(c *gin.Context) {
	name := c.Param("name")
	content, err := assetFiles.ReadFile("assets/" + path.Base(name))
	if err != nil {
		c.Status(http.StatusNotFound)
		return
	}
	if c.Param("version") == assetVersion {
		c.Header("Cache-Control", "public, max-age=31536000, immutable")
	}
	c.Data(http.StatusOK, mime.TypeByExtension(path.Ext(name)), content)
}
