import { expect, test } from 'vitest';
import { readMesh } from './mesh';

function bytes(name: string, vertices: number[], indices: number[]): ArrayBuffer {
  const out = new ArrayBuffer(12 + 4 * (vertices.length + indices.length));
  const view = new DataView(out);
  [...name].forEach((c, n) => view.setUint8(n, c.charCodeAt(0)));
  view.setUint32(4, vertices.length / 3, true);
  view.setUint32(8, indices.length / 3, true);
  vertices.forEach((x, n) => view.setFloat32(12 + 4 * n, x, true));
  indices.forEach((i, n) => view.setUint32(12 + 4 * (vertices.length + n), i, true));
  return out;
}

test('a mesh is read as it was sent', () => {
  const mesh = readMesh(bytes('SWM1', [0, 0, 0, 1, 0, 0, 0, 2.5, 0], [0, 1, 2]));
  expect([...mesh.positions]).toEqual([0, 0, 0, 1, 0, 0, 0, 2.5, 0]);
  expect([...mesh.indices]).toEqual([0, 1, 2]);
});

test('what is no whole mesh is refused', () => {
  expect(() => readMesh(bytes('SWM2', [0, 0, 0], []))).toThrow('no mesh');
  expect(() => readMesh(bytes('SWM1', [0, 0, 0], [0, 0, 0]).slice(0, 30))).toThrow('torn');
  expect(() => readMesh(new ArrayBuffer(3))).toThrow('no mesh');
});
