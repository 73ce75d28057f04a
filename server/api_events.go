package server

import (
	"context"
	"net/http"
	"time"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/sse"
)

// BeatEvent is sent when nothing happened for a while, so that both ends know the
// line is open.
type BeatEvent struct {
	Now string `json:"now" format:"date-time"`
}

// beatEvery is well below the half minute after which lines that say nothing are cut.
const beatEvery = 15 * time.Second

type eventsIn struct{ OnBuild }

func (s *Server) eventRoute(on string) {
	sse.Register(s.api, huma.Operation{
		Method: http.MethodGet, Path: "/api" + on + "/events", OperationID: "events",
		Summary: "What changes, as it happens. The first event is state",
	}, map[string]any{
		"state": StateEvent{}, "progress": ProgressEvent{}, "stage": StageEvent{}, "derived": DerivedEvent{}, "made": MadeEvent{}, "beat": BeatEvent{},
	}, func(ctx context.Context, in *eventsIn, send sse.Sender) {
		d, err := s.shelf.desk(in.Build)
		if err != nil {
			return // the board says why
		}
		events, leave := d.listen()
		defer leave()
		beat := time.NewTicker(beatEvery)
		defer beat.Stop()
		for {
			select {
			case <-ctx.Done():
				return
			case event, open := <-events:
				if !open || ctx.Err() != nil || send.Data(event) != nil {
					return
				}
			case <-beat.C:
				if send.Data(BeatEvent{s.o.Now().Format(time.RFC3339)}) != nil {
					return
				}
			}
		}
	})
}
