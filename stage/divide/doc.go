// Package divide decides where parts are cut, which printer makes each piece,
// which end stands on its platform, and how pieces meet.
//
// In: the design and its raw parts, mm at full size. Out: pieces, seams, seats
// of core rings and cuts, by station. Cuts that the maker accepted are kept;
// others are chosen by dynamic programming over stations, so that every piece
// fits a permitted printer and the hours of printing, supporting, joining and
// hiding seams are least. Seams want to lie at steps of the profile, where
// nobody sees them.
//
// A part turned round its own axis is divided as the body is, on a line of its
// own. Flat and imported parts are divided by planes square to their own line into
// equal pieces, as few as printers take.
//
// Findings: a part or stretch that no printer takes, cuts off their part, parts
// apart or overlapping, pieces too short for their joints, a core that no ring
// holds. Hours per seam, depth of engagement and thickness of rings are common
// practice and a guess until logged; see docs/divide.md.
package divide
