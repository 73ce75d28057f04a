package main

import (
	"os"

	"github.com/vbauerster/mpb/v8"
	"github.com/vbauerster/mpb/v8/decor"

	"scalewright/solid"
)

// bars show how far each stage has come, on a terminal only.
type bars struct {
	all     *mpb.Progress
	byStage map[string]*mpb.Bar
}

func (f *face) progress() *bars {
	file, ok := f.talk.(*os.File)
	if !ok {
		return &bars{}
	}
	info, err := file.Stat()
	if err != nil || info.Mode()&os.ModeCharDevice == 0 {
		return &bars{}
	}
	return &bars{all: mpb.New(mpb.WithOutput(f.talk), mpb.WithWidth(48)), byStage: map[string]*mpb.Bar{}}
}

// Step is told by one goroutine at a time.
func (b *bars) Step(stage string, done, total int) {
	if b.all == nil {
		return
	}
	bar := b.byStage[stage]
	if bar == nil {
		bar = b.all.AddBar(int64(total), mpb.PrependDecorators(decor.Name(stage, decor.WC{W: 10})))
		b.byStage[stage] = bar
	}
	bar.SetTotal(int64(total), false)
	bar.SetCurrent(int64(done))
}

// kernel is a mesh kernel that shows how far it has come; done takes the bars
// away again.
func (f *face) kernel() (k solid.Kernel, done func()) {
	const parts = 1000 // bars count whole parts
	b := f.progress()
	return solid.Kernel{Progress: func(step string, share float64) { b.Step(step, int(share*parts), parts) }}, b.close
}

func (b *bars) close() {
	if b.all == nil {
		return
	}
	for _, bar := range b.byStage {
		bar.SetTotal(-1, true)
	}
	b.all.Wait()
}
