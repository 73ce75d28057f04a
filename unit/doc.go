// Package unit holds lengths, dimensions as a maker writes them, and values
// with doubt.
//
// A [Length] is millimetres at full size. A [Dim] is a dimension as written:
// "22.5 ref" is of the reference and grows with the enlargement, "3 mm" and
// "1/8 in" are of the shop and never do. Only model.Resolve turns a Dim into a
// Length. A [Value] carries a standard uncertainty and the shared variables it
// comes from, so that what two values have in common is counted once (JCGM
// 100:2008, 5.2).
//
// Inside the house: millimetres, grams, seconds (whole minutes in schedules),
// volts, amperes, newtons, megapascals, degrees Celsius, radians.
package unit
