// Package photograph draws photographs of turned objects on cutting mats, with
// the truth of everything that a measurement could say of them. It is the
// other side of stage/measure and shares no code with it: a camera, a mat, a
// ruler, a body and lamps are chosen by a seed ([Seeded]) and drawn
// ([Scene.Draw]) as a camera of that kind would have taken them, down to the
// noise and the EXIF.
//
// The world is in mm: x and y on the mat's top surface from the printed grid's
// origin, z up. Pixels are those of the upright picture, their centres at whole
// numbers, the origin at the top left. The lens is x' = x·(1 + k1·r² + k2·r⁴)
// on the plane at unit depth (OpenCV's convention). Light is linear until the
// last step.
//
// A seed gives the same bytes on every run of one machine; photographs are test
// data, and no stage reads this package.
package photograph
