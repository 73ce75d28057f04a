// Answers the bench over standard input and output, a JSON object a line:
// {"case", "n"} is answered by the seconds of one run and what came out. The
// inputs of a case are made once, outside the time. "whole" runs from meshes in
// memory to a mesh in memory, "alone" leaves out the library's import and export.
// It is single precision at both, and double in between.

import { createInterface } from 'node:readline';
import { readFileSync } from 'node:fs';
import Module from 'manifold-3d';
import { cases } from './cases.mjs';

const wasm = await Module();
wasm.setup();
const { Manifold, Mesh } = wasm;
const prepared = new Map();

const now = () => performance.now() / 1000;
const version = JSON.parse(readFileSync(new URL('./node_modules/manifold-3d/package.json', import.meta.url))).version;

function answer({ case: name, n }) {
  if (!(name in cases)) return { absent: true };
  const key = `${name} ${n}`;
  if (!prepared.has(key)) {
    prepared.clear();
    prepared.set(key, cases[name].inputs(n).map((m) => ({ places: Float32Array.from(m.places), corners: m.corners })));
  }
  const inputs = prepared.get(key);
  const began = now();
  const solids = inputs.map((m) => Manifold.ofMesh(new Mesh({ numProp: 3, vertProperties: m.places, triVerts: m.corners })));
  solids.forEach((s) => s.numTri());
  const imported = now();
  const results = cases[name].run(solids, wasm);
  // The library works only when asked for something.
  const triangles = results.map((r) => (r.numTri ? r.numTri() : 0));
  const done = now();
  results.forEach((r) => (r.getMesh ? r.getMesh() : r.toPolygons()));
  const exported = now();
  const first = results[0];
  const out = {
    alone: done - imported, whole: exported - began, triangles: triangles[0],
    volume: first.volume ? first.volume() : 0, area: first.surfaceArea ? first.surfaceArea() : first.area(),
  };
  for (const x of [...solids, ...results]) x.delete();
  return out;
}

console.log(JSON.stringify({ version, node: process.version }));
for await (const line of createInterface({ input: process.stdin })) console.log(JSON.stringify(answer(JSON.parse(line))));
