// Package propose finds the ratios that are worth weighing: the declared one,
// round ones about it that some printer takes, those at which a cylinder of the reference comes out as
// a stock pipe, those at which the widest place just goes onto a printer, and the
// least at which the core goes through.
//
// In: the outline of the reference in mm, the declared ratio, core and walls, the
// printers. Out: proposals by ratio, each with its reason; those that lie within a
// hundredth of a better founded one are left out.
package propose
