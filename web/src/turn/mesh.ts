// A piece's mesh as the server sends it: the letters SWM1, numbers of vertices and of
// triangles, x y z of each vertex in mm, three indices of each triangle; little endian.

export interface Mesh {
  positions: Float32Array;
  indices: Uint32Array;
}

export function readMesh(bytes: ArrayBuffer): Mesh {
  const head = new DataView(bytes);
  const name = String.fromCharCode(...new Uint8Array(bytes, 0, Math.min(4, bytes.byteLength)));
  if (name !== 'SWM1' || bytes.byteLength < 12) throw new Error('that is no mesh');
  const vertices = head.getUint32(4, true);
  const triangles = head.getUint32(8, true);
  if (bytes.byteLength !== 12 + 12 * (vertices + triangles)) throw new Error('the mesh is torn');
  return {
    positions: new Float32Array(bytes, 12, 3 * vertices),
    indices: new Uint32Array(bytes, 12 + 12 * vertices, 3 * triangles),
  };
}
