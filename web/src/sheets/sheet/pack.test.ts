import { expect, test } from 'vitest';
import { pack } from './pack';

test('boxes that would overlap stand in rows', () => {
  const seats = pack([100, 120, 400, 600], [80, 80, 80, 80], 620);
  expect(seats.map((s) => s.row)).toEqual([0, 1, 0, 0]);
  expect(seats[3]?.left).toBe(540); // kept inside
});

test('no two boxes of a row overlap, whatever the order', () => {
  const places = [300, 10, 90, 50, 280, 310, 90];
  const wide = places.map(() => 70);
  const seats = pack(places, wide, 400);
  for (const [a, s] of seats.entries()) {
    for (const [b, t] of seats.entries()) {
      if (a < b && s.row === t.row) expect(Math.abs(s.left - t.left)).toBeGreaterThanOrEqual(70);
    }
  }
});
