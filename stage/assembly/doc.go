// Package assembly finds an order in which everything goes together, with
// nothing bonded shut that must still be reached.
//
// In: the division with its carved pieces, the design (core, mounts, openings,
// components, stand), and the places of components and wires; lengths in mm at
// full size. Out: [model.Assembly]: the acts in an order that works, as tasks
// that wait for each other, with what must be right before a joint closes, and
// the groups of what is glued together.
//
// # What may be done
//
// Things are pieces, the core and the stand. A joint unites the two bodies that
// its two things belong to, each moved as one. What is turned on the build's axis
// moves along it: x passes over y towards the foot if at no radius some of y lies
// further towards the nose than some of x. A body passes another if each of its
// things passes each of the other's, all the same way. A guest comes from the
// side once all the pieces it sits on are one body. Loose joints come after all
// glued ones, since they must come apart again with everything else in place.
//
// A component is put, and a wire's end connected, while its bay is reached:
// through an opening or a loose joint that place named, or through room as wide as
// the component and a hand's fingers that leads out of what is glued up so far. Gluing only
// ever takes room away. A wire between two bodies has one end still to be connected
// when they are united, or slack for the whole way that one slides over the other.
//
// # Search
//
// Orders are searched depth first over sets of closed joints, from the datum
// along the core, and sets that failed are remembered; the limit counts sets. When
// there is no order the stage asks which single joint, made removable, gives one
// (precedence with states: the assembly sequence as a search over partitions, as in
// Homem de Mello & Sanderson, "A correct and complete algorithm for the generation
// of mechanical assembly sequences", IEEE Transactions on Robotics and Automation
// 7(2), 1991, read forwards).
//
// Minutes are common practice, a guess until logged; the glue's cure is that of
// the glue table.
package assembly
