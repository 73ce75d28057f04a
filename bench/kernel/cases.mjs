// The cases of the bench as the library runs them; cases.go has the same by name.
// The first result is the one compared.

import { sphere, tube, drills, cube, moved } from './shapes.mjs';

const two = (centre) => (n) => [sphere(n, 50, [0, 0, 0]), sphere(n, 50, centre)];
const mirrored = two([20, 0, 0]);
const general = two([20, 0.7, 0.3]);
const one = (n) => [sphere(n, 50, [0, 0, 0])];

function grid() {
  const out = [];
  for (let i = 0; i < 20; i++) for (let j = 0; j < 20; j++) for (let k = 0; k < 20; k++) out.push(cube([i, j, k]));
  return out;
}

const subtract = ([a, b]) => [a.subtract(b)];

export const cases = {
  'a A-B': { inputs: mirrored, run: subtract },
  'a A+B': { inputs: mirrored, run: ([a, b]) => [a.add(b)] },
  'a A*B': { inputs: mirrored, run: ([a, b]) => [a.intersect(b)] },
  'a-gen A-B': { inputs: general, run: subtract },
  b: {
    inputs: (n) => [tube(2 * n, Math.max(2, Math.floor(n * 200 / 256))), ...drills()],
    run: (solids, { Manifold }) => [Manifold.difference(solids)],
  },
  'c cut': { inputs: one, run: ([a]) => a.splitByPlane([0, 0, 1], 3) },
  'c section': { inputs: one, run: ([a]) => [a.slice(3)] },
  'c in tree': { inputs: one, run: ([a]) => [a.slice(3)] },
  'd grid': { inputs: grid, run: (solids, { Manifold }) => [Manifold.union(solids)] },
  e: {
    inputs: (n) => {
      const a = sphere(n, 50, [0, 0, 0]);
      return [a, moved(a, [1, -1e-9, 0, 1e-9, 1, 0, 0, 0, 1])];
    },
    run: subtract,
  },
};
