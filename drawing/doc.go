// Package drawing holds one vector drawing and writes it as PDF or SVG.
//
// A [Scene] is a sheet of paper with a size and a flat, ordered list of items:
// paths, text, pictures, links, and the opening and closing of groups with
// ids. The same Scene goes to the screen ([SVG]) and to paper ([PDF]); both
// writers put down the same numbers, so that a hatch line, a tick or a letter
// stands at the same place on both.
//
// # Units
//
// All lengths are millimetres on the paper: places, line widths, dashes, sizes
// of letters. The origin is the upper left corner of the trimmed sheet, x runs
// right, y runs DOWN. Angles are degrees, clockwise as seen on the paper. The
// scale of what is drawn (1:4 and so on) is the caller's map; nothing here
// knows of it.
//
// # Order of work
//
//  1. Make a Scene with [New], or a framed sheet with [NewSheet].
//  2. Draw: [Scene.Line], [Scene.Path], [Scene.Hatch], [Scene.Dimension],
//     [Scene.Leader], [Scene.Flag], [Scene.Text], [Scene.Paragraph],
//     [Scene.Table], [Scene.TitleBlock], [Scene.CheckBar].
//  3. Where labels compete for room, let [PlaceLabels] choose their places.
//  4. Write with [SVG] or [PDF]; what is at full size and larger than a sheet goes
//     through [Tiling] first.
//
// Colours are names ([Ink], [Pencil], [Signal] and so on) looked up in a
// [Palette] when the scene is written, so that day, night and print are one
// drawing. Letters are measured and embedded in DejaVu Sans Condensed.
//
// The output depends on the scene and the options alone: no clock, no map
// order, no machine. The package imports nothing of the house.
package drawing
