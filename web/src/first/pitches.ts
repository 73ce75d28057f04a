// How far apart the lines of cutting mats are, in words and mm.
export const pitches: readonly (readonly [string, number])[] = [
  ['10 mm', 10],
  ['1/2 in', 12.7],
  ['1 in', 25.4],
];
