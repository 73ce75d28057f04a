// Writes what the library makes of small solids to a file that the tests of
// package solid compare with, so that they need neither Node nor the library:
//
//     (cd bench/kernel && npm ci --ignore-scripts && node record.mjs) > solid/testdata/manifold.json
//
// A solid is {kind, n, m, matrix, shift}: a recipe of shapes.mjs, moved by
// x' = M x + t, each place then rounded to single precision, which is what the
// library takes in. The test does the same, so both begin with the same bits.

import { readFileSync } from 'node:fs';
import Module from 'manifold-3d';
import { sphere, tube, drills, cube, moved } from './shapes.mjs';

const wasm = await Module();
wasm.setup();
const { Manifold, Mesh } = wasm;
const version = JSON.parse(readFileSync(new URL('./node_modules/manifold-3d/package.json', import.meta.url))).version;

const kinds = {
  sphere: (s) => sphere(s.n, 50, [0, 0, 0]),
  tube: (s) => tube(s.n, s.m),
  drill: (s) => drills()[s.n],
  cube: () => cube([0, 0, 0]),
};

function solid(s) {
  const m = moved(kinds[s.kind](s), s.matrix, s.shift);
  return Manifold.ofMesh(new Mesh({ numProp: 3, vertProperties: Float32Array.from(m.places), triVerts: m.corners }));
}

const unmoved = [1, 0, 0, 0, 1, 0, 0, 0, 1];
const at = (kind, n, m, shift) => ({ kind, n, m, matrix: unmoved, shift });
const measured = (m) => ({ volume: m.volume(), area: m.surfaceArea(), genus: m.isEmpty() ? 0 : m.genus() });

// All three operations; the first solid is what is subtracted from.
function recorded(name, solids) {
  const in3d = solids.map(solid);
  return {
    name,
    solids,
    union: measured(Manifold.union(in3d)),
    difference: measured(Manifold.difference(in3d)),
    intersection: measured(Manifold.intersection(in3d)),
  };
}

// A congruential generator (Lehmer, modulus 2^31 - 1, multiplier 48271: S. Park,
// K. Miller & P. Stockmeyer, Comm. ACM 36(7) (1993)); every product is below 2^53.
let state = 20261125;
const random = () => (state = (state * 48271) % 2147483647) / 2147483647;
const whole = (low, high) => low + Math.floor(random() * (high - low + 1));

// A turn by a quaternion of whole numbers, scaled along the solid's own axes.
function placing(scale, reach) {
  const [w, x, y, z] = [whole(1, 9), whole(-9, 9), whole(-9, 9), whole(-9, 9)];
  const n = w * w + x * x + y * y + z * z;
  const turn = [
    w * w + x * x - y * y - z * z, 2 * (x * y - w * z), 2 * (x * z + w * y),
    2 * (x * y + w * z), w * w - x * x + y * y - z * z, 2 * (y * z - w * x),
    2 * (x * z - w * y), 2 * (y * z + w * x), w * w - x * x - y * y + z * z,
  ];
  return {
    matrix: turn.map((v, i) => v / n * scale[i % 3]),
    shift: [0, 1, 2].map(() => (random() - 0.5) * reach),
  };
}

// centred moves the middle of a unit cube, not its corner, to the place drawn.
function centred({ matrix, shift }) {
  return { matrix, shift: shift.map((t, k) => t - (matrix[3 * k] + matrix[3 * k + 1] + matrix[3 * k + 2]) / 2) };
}

const some = {
  sphere: () => ({ kind: 'sphere', n: whole(2, 16), m: 0, ...placing([1, 1, 1].map(() => 0.5 + random()), 60) }),
  tube: () => ({ kind: 'tube', n: 2 ** whole(3, 6), m: whole(2, 20), ...placing([0.5, 0.5, 0.3], 60) }),
  cube: () => ({ kind: 'cube', n: 0, m: 0, ...centred(placing([1, 1, 1].map(() => 20 + 60 * random()), 60)) }),
  // On a grid, so that faces, edges and corners of two often coincide.
  brick: () => ({
    kind: 'cube', n: 0, m: 0,
    matrix: [whole(1, 4), 0, 0, 0, whole(1, 4), 0, 0, 0, whole(1, 4)],
    shift: [whole(0, 3), whole(0, 3), whole(0, 3)],
  }),
};

const list = [
  recorded('a, n = 16', [at('sphere', 16, 0, [0, 0, 0]), at('sphere', 16, 0, [20, 0, 0])]),
  recorded('a, n = 32', [at('sphere', 32, 0, [0, 0, 0]), at('sphere', 32, 0, [20, 0, 0])]),
  recorded('a-gen, n = 16', [at('sphere', 16, 0, [0, 0, 0]), at('sphere', 16, 0, [20, 0.7, 0.3])]),
  recorded('a-gen, n = 32', [at('sphere', 32, 0, [0, 0, 0]), at('sphere', 32, 0, [20, 0.7, 0.3])]),
  recorded('b, 64 by 20', [at('tube', 64, 20, [0, 0, 0]), ...Array.from({ length: 100 }, (_, i) => at('drill', i, 0, [0, 0, 0]))]),
  recorded('cubes, the same', [at('cube', 0, 0, [0, 0, 0]), at('cube', 0, 0, [0, 0, 0])]),
  recorded('cubes, a face', [at('cube', 0, 0, [0, 0, 0]), at('cube', 0, 0, [1, 0, 0])]),
  recorded('cubes, an edge', [at('cube', 0, 0, [0, 0, 0]), at('cube', 0, 0, [1, 1, 0])]),
  recorded('cubes, a vertex', [at('cube', 0, 0, [0, 0, 0]), at('cube', 0, 0, [1, 1, 1])]),
  recorded('cubes, a quarter', [at('cube', 0, 0, [0, 0, 0]), at('cube', 0, 0, [0.5, 0.5, 0])]),
];
const pairs = [
  ['sphere', 'sphere'], ['sphere', 'cube'], ['sphere', 'tube'], ['cube', 'cube'], ['cube', 'tube'], ['tube', 'tube'], ['brick', 'brick'],
];
for (let i = 0; i < 56; i++) {
  const [a, b] = pairs[i % pairs.length];
  list.push(recorded(`${i}: ${a}, ${b}`, [some[a](), some[b]()]));
}
// One case a line, so that a change shows where it is.
console.log(`{"by": "manifold-3d ${version}, bench/kernel/record.mjs", "cases": [\n${list.map((c) => JSON.stringify(c)).join(',\n')}\n]}`);
