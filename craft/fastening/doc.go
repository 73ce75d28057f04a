// Package fastening is how deep pins, screws and magnets go, and what must be left
// round them: lengths in mm. All of it is common practice but the geometry of a
// countersunk head, which is a cone of 90° (ISO 7721).
package fastening
