package server

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	_ "image/jpeg" // kinds of photograph that are taken in
	_ "image/png"
	"io/fs"
	"mime"
	"net/http"
	"path"
	"regexp"
	"strings"
	"time"

	"github.com/danielgtaylor/huma/v2"
	_ "golang.org/x/image/tiff"
	_ "golang.org/x/image/webp"

	"scalewright/book"
	"scalewright/build"
)

// raw is an answer that is no JSON.
type raw struct {
	ContentType string `header:"Content-Type"`
	Disposition string `header:"Content-Disposition"`
	Body        []byte
}

func rawRoute[I built](s *Server, path, id, summary, kind string, handle func(context.Context, *desk, I) (raw, error)) {
	op := huma.Operation{
		Method: http.MethodGet, Path: "/api" + path, OperationID: id, Summary: summary,
		Errors: []int{http.StatusNotFound},
		Responses: map[string]*huma.Response{"200": {
			Description: "The bytes.",
			Content:     map[string]*huma.MediaType{kind: {Schema: &huma.Schema{Type: huma.TypeString, Format: "binary"}}},
		}},
	}
	find := onDesk(s, handle)
	huma.Register(s.api, op, func(ctx context.Context, in *I) (*raw, error) {
		out, err := find(ctx, in)
		if err != nil {
			return nil, err
		}
		return &out, nil
	})
}

type fileIn struct {
	OnBuild
	Path string `query:"path" required:"true" maxLength:"300" doc:"As the lists have it: out/book.pdf."`
}

// PhotoIn is the part of a request that names a photograph.
type PhotoIn struct {
	OnBuild
	Name string `path:"name" maxLength:"100"`
}

type photoPutIn struct {
	PhotoIn
	RawBody []byte `contentType:"application/octet-stream"`
}

type solidIn struct {
	OnBuild
	Piece string `path:"piece" maxLength:"120"`
}

func (s *Server) bytesRoutes(on string) {
	rawRoute(s, on+"/file", "file", "A file of out/ or made/", "application/octet-stream", func(_ context.Context, d *desk, in fileIn) (raw, error) {
		data, err := d.readFile(in.Path)
		if err != nil {
			return raw{}, err
		}
		kind, way := kindOf(in.Path)
		return raw{kind, way + `; filename="` + path.Base(in.Path) + `"`, data}, nil
	})
	rawRoute(s, on+"/photos/{name}", "photo", "A photograph of photos/", "image/*", func(_ context.Context, d *desk, in PhotoIn) (raw, error) {
		if !photoName.MatchString(photoDir + in.Name) {
			return raw{}, notFound("there is no photograph of that name", "")
		}
		data, err := d.folder.ReadFile(photoDir+in.Name, mostFile)
		if errors.Is(err, fs.ErrNotExist) || errors.Is(err, build.ErrOutside) {
			return raw{}, notFound("there is no photograph of that name", "")
		}
		if err != nil {
			return raw{}, err
		}
		_, kind, err := image.DecodeConfig(bytes.NewReader(data))
		if err != nil {
			return raw{}, badRequest("that file is no photograph", "")
		}
		return raw{"image/" + kind, "inline", data}, nil
	})
	rawRoute(s, on+"/labels", "labels", "Labels of all released pieces, to be printed: a PDF. Their codes lead to the pieces' pages, where other machines reach them", "application/pdf", s.labels)
	rawRoute(s, on+"/solids/{piece}", "solid", meshSummary, "application/octet-stream", func(ctx context.Context, d *desk, in solidIn) (raw, error) {
		data, err := solidOf(ctx, d, in.Piece)
		return raw{"application/octet-stream", "inline", data}, err
	})
	huma.Register(s.api, huma.Operation{
		Method: http.MethodPut, Path: "/api" + on + "/photos/{name}", OperationID: "putPhoto",
		Summary:      "Store a photograph in photos/: JPEG, PNG, WebP or TIFF, up to 64 MiB and 50 megapixels",
		MaxBodyBytes: mostPhotoBody, BodyReadTimeout: 2 * time.Minute,
		Errors: []int{http.StatusNotFound, http.StatusRequestEntityTooLarge, http.StatusUnprocessableEntity},
	}, func(ctx context.Context, in *photoPutIn) (*answer[PhotoPut], error) {
		out, err := onDesk(s, putPhoto)(ctx, in)
		if err != nil {
			return nil, err
		}
		return &answer[PhotoPut]{out}, nil
	})
}

// labels are those of the newest result.
func (s *Server) labels(ctx context.Context, d *desk, in seenIn) (raw, error) {
	now, _, err := d.see(ctx, throughAll)
	if err != nil {
		return raw{}, err
	}
	date, err := time.Parse(time.DateOnly, now.loaded.Declared.Calendar.Start)
	if err != nil {
		return raw{}, err
	}
	address := ""
	if s.o.Address != "" {
		address = s.o.Address + "/b/" + d.id
	}
	var b bytes.Buffer
	err = book.Labels(&b, now.result, book.Options{System: in.system(), Date: date}, address)
	return raw{"application/pdf", `inline; filename="labels.pdf"`, b.Bytes()}, err
}

const meshSummary = "The mesh of a piece where it lies in the build: the letters SWM1, uint32 vertices, uint32 triangles, " +
	"float32 x y z of each vertex in mm, uint32 indices of each triangle, little endian"

// kindOf is the type of a file that is handed out, and whether the browser may show
// it. What could run is never shown.
func kindOf(name string) (kind, way string) {
	switch ext := strings.ToLower(path.Ext(name)); ext {
	case ".pdf":
		return "application/pdf", "inline"
	case ".png":
		return "image/png", "inline"
	case ".3mf":
		return "model/3mf", "attachment" // IANA, 3MF Consortium
	case ".stl":
		return "model/stl", "attachment"
	case ".json":
		return "application/json", "attachment"
	case ".ics", ".csv":
		return mime.TypeByExtension(ext), "attachment"
	}
	return "application/octet-stream", "attachment"
}

const (
	photoDir       = "photos/"
	mostMegapixels = 50
)

// photoName is a name in photos/: plain, and of a kind that is read.
var photoName = regexp.MustCompile(`^photos/[\pL\pN][\pL\pN _.-]{0,79}\.(?i:jpe?g|png|webp|tiff?)$`)

// putPhoto stores a photograph. Its size is read from its head before anything is
// decoded, so that a small file cannot unfold to a huge picture.
func putPhoto(_ context.Context, d *desk, in photoPutIn) (PhotoPut, error) {
	file := photoDir + in.Name
	if !photoName.MatchString(file) {
		return PhotoPut{}, badRequest(fmt.Sprintf("%q is no name for a photograph", in.Name), "take letters, figures, hyphens, and .jpg, .png, .webp or .tif")
	}
	size, kind, err := image.DecodeConfig(bytes.NewReader(in.RawBody))
	if err != nil {
		return PhotoPut{}, badRequest("this is no photograph that can be read", "send JPEG, PNG, WebP or TIFF; a phone exports its own kinds as JPEG")
	}
	if size.Width < 1 || size.Height < 1 || size.Width*size.Height > mostMegapixels*1_000_000 {
		return PhotoPut{}, badRequest(fmt.Sprintf("%d × %d pixels are more than can be measured", size.Width, size.Height), fmt.Sprintf("scale it to %d megapixels or fewer", mostMegapixels))
	}
	d.writing.Lock()
	defer d.writing.Unlock()
	if file, err = d.folder.PutFile(file, in.RawBody); err != nil {
		return PhotoPut{}, err
	}
	d.refresh()
	return PhotoPut{file, size.Width, size.Height, kind}, nil
}
