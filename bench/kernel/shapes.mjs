// The recipes of package solid/solidtest once more, out of + - * / and sqrt alone,
// so that both programs begin with the same bits. A mesh is {places, corners}:
// flat arrays of three numbers a vertex and three indices a triangle.

const builder = () => {
  const places = [], corners = [];
  return {
    vertex(x, y, z) { places.push(x, y, z); return places.length / 3 - 1; },
    triangle(a, b, c) { corners.push(a, b, c); },
    mesh: () => ({ places: Float64Array.from(places), corners: Uint32Array.from(corners) }),
  };
};

// circle(n = 2^k): the four points on the axes, then repeatedly the normalised
// middle of neighbours.
export function circle(n) {
  let c = [[1, 0], [0, 1], [-1, 0], [0, -1]];
  while (c.length < n) {
    const finer = [];
    c.forEach((p, i) => {
      const q = c[(i + 1) % c.length];
      const x = p[0] + q[0], y = p[1] + q[1];
      const l = Math.sqrt(x * x + y * y);
      finer.push(p, [x / l, y / l]);
    });
    c = finer;
  }
  return c;
}

// sphere: the lattice points |i|+|j|+|k| = n pushed out to the radius.
export function sphere(n, r, centre) {
  const b = builder(), index = new Map();
  const vertex = (p) => {
    const key = ((p[0] + n) * (2 * n + 1) + p[1] + n) * (2 * n + 1) + p[2] + n;
    let at = index.get(key);
    if (at === undefined) {
      const l = Math.sqrt(p[0] * p[0] + p[1] * p[1] + p[2] * p[2]);
      at = b.vertex(r * p[0] / l + centre[0], r * p[1] / l + centre[1], r * p[2] / l + centre[2]);
      index.set(key, at);
    }
    return at;
  };
  for (let octant = 0; octant < 8; octant++) {
    const sx = octant & 1 ? -1 : 1, sy = octant & 2 ? -1 : 1, sz = octant & 4 ? -1 : 1;
    const add = (p, q, s) => {
      if (sx * sy * sz < 0) [q, s] = [s, q];
      b.triangle(vertex(p), vertex(q), vertex(s));
    };
    const g = (i, j) => [sx * i, sy * j, sz * (n - i - j)];
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < n - i; j++) {
        add(g(i, j), g(i + 1, j), g(i, j + 1));
        if (i + j < n - 1) add(g(i + 1, j), g(i + 1, j + 1), g(i, j + 1));
      }
    }
  }
  return b.mesh();
}

// tube: 300 long, wavy outside of radius about 60, bore 57.15, n = 2^k points
// round and m stations along.
export function tube(n, m) {
  const b = builder(), round = circle(n), wave = circle(512);
  for (let k = 0; k < m; k++) {
    const z = 300 * k / (m - 1);
    for (const r of [60 + 1.5 * wave[(26 * k) % 512][1], 57.15]) {
      for (const c of round) b.vertex(r * c[0], r * c[1], z);
    }
  }
  const quad = (p, q, r, s) => { b.triangle(p, q, r); b.triangle(p, r, s); };
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n;
    for (let k = 0; k < m - 1; k++) {
      const low = 2 * n * k, high = 2 * n * (k + 1);
      quad(low + i, low + j, high + j, high + i);
      quad(low + n + j, low + n + i, high + n + i, high + n + j);
    }
    const top = 2 * n * (m - 1);
    quad(j, i, n + i, n + j);
    quad(top + i, top + j, top + n + j, top + n + i);
  }
  return b.mesh();
}

// drills: 100 cylinders of radius 2 and 64 sides through the wall of the tube.
export function drills() {
  const table = circle(4096), round = circle(64), out = [];
  for (let i = 0; i < 100; i++) {
    const b = builder(), d = table[(1579 * i + 3) % 4096];
    const z = 300 * (i + 0.5) / 100;
    for (const along of [50, 70]) {
      const x = along * d[0], y = along * d[1];
      for (const c of round) b.vertex(x - 2 * c[0] * d[1], y + 2 * c[0] * d[0], z + 2 * c[1]);
      b.vertex(x, y, z);
    }
    for (let p = 0; p < 64; p++) {
      const q = (p + 1) % 64;
      b.triangle(p, q, 65 + q);
      b.triangle(p, 65 + q, 65 + p);
      b.triangle(64, q, p);
      b.triangle(129, 65 + p, 65 + q);
    }
    out.push(b.mesh());
  }
  return out;
}

// box: from corner to corner.
export function box(low, high) {
  const b = builder();
  for (const z of [low[2], high[2]]) {
    b.vertex(low[0], low[1], z);
    b.vertex(high[0], low[1], z);
    b.vertex(high[0], high[1], z);
    b.vertex(low[0], high[1], z);
  }
  for (const [p, q, r, s] of [[3, 2, 1, 0], [4, 5, 6, 7], [0, 1, 5, 4], [1, 2, 6, 5], [2, 3, 7, 6], [3, 0, 4, 7]]) {
    b.triangle(p, q, r);
    b.triangle(p, r, s);
  }
  return b.mesh();
}

export const cube = (p) => box(p, [p[0] + 1, p[1] + 1, p[2] + 1]);

// moved applies x' = M x + t to every place; m has nine numbers, row by row.
export function moved(mesh, m, t = [0, 0, 0]) {
  const places = mesh.places.slice();
  for (let i = 0; i < places.length; i += 3) {
    const [x, y, z] = mesh.places.subarray(i, i + 3);
    for (let k = 0; k < 3; k++) places[i + k] = m[3 * k] * x + m[3 * k + 1] * y + m[3 * k + 2] * z + t[k];
  }
  return { places, corners: mesh.corners };
}
