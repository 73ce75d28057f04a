export interface Seat {
  left: number;
  row: number;
}

// pack seats boxes of given widths under their places, left to right, each in the first
// row where it stands clear of the one before; none leaves the width.
export function pack(places: readonly number[], wide: readonly number[], width: number): Seat[] {
  const order = places.map((_, n) => n).sort((a, b) => (places[a] ?? 0) - (places[b] ?? 0));
  const ends: number[] = [];
  const out: Seat[] = places.map(() => ({ left: 0, row: 0 }));
  const gap = 6;
  for (const n of order) {
    const w = wide[n] ?? 0;
    const left = Math.max(0, Math.min((places[n] ?? 0) - w / 2, width - w));
    let row = ends.findIndex((end) => end + gap <= left);
    if (row < 0) row = ends.length;
    ends[row] = left + w;
    out[n] = { left, row };
  }
  return out;
}
