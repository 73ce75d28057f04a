// A photograph as it is held: how near, and which part of it lies in its place. Pixels
// of the photograph become places of the screen and back.

export type Pair = readonly [number, number];

const nearest = 16;
const spare = 0.8; // of its place that a part takes which is shown

export class Held {
  readonly #size: () => { w: number; h: number };
  #wide = $state(0);
  #high = $state(0);
  #zoom = $state(1);
  #by = $state.raw<Pair>([0, 0]); // off the middle, px of the photograph

  // size is the photograph's own, px.
  constructor(size: () => { w: number; h: number }) {
    this.#size = size;
  }

  get wide(): number {
    return this.#wide;
  }

  set wide(px: number) {
    this.#wide = px;
  }

  get high(): number {
    return this.#high;
  }

  set high(px: number) {
    this.#high = px;
  }

  get zoom(): number {
    return this.#zoom;
  }

  // k is a pixel of the photograph on the screen.
  get k(): number {
    const { w, h } = this.#size();
    return (Math.min(this.#wide / w, this.#high / h) || 0) * this.#zoom;
  }

  get left(): number {
    return (this.#wide - this.#size().w * this.k) / 2 + this.#by[0] * this.k;
  }

  get top(): number {
    return (this.#high - this.#size().h * this.k) / 2 + this.#by[1] * this.k;
  }

  at(px: readonly number[]): [number, number] {
    return [this.left + (px[0] ?? 0) * this.k, this.top + (px[1] ?? 0) * this.k];
  }

  // px is the pixel under a place of the screen, inside the photograph.
  px(x: number, y: number): [number, number] {
    const { w, h } = this.#size();
    return [
      Math.min(w - 1, Math.max(0, (x - this.left) / this.k)),
      Math.min(h - 1, Math.max(0, (y - this.top) / this.k)),
    ];
  }

  points(line: readonly (readonly number[])[]): string {
    return line.map((p) => this.at(p).join(',')).join(' ');
  }

  // nearer comes nearer about a place of the screen, the middle unless said.
  nearer(by: number, about: Pair = [this.#wide / 2, this.#high / 2]): void {
    const to = Math.min(nearest, Math.max(1, this.#zoom * by));
    const dx = about[0] - this.#wide / 2;
    const dy = about[1] - this.#high / 2;
    const before = this.k;
    this.#zoom = to;
    const less = 1 / this.k - 1 / before;
    this.#by = to === 1 ? [0, 0] : [this.#by[0] + dx * less, this.#by[1] + dy * less];
  }

  // show brings a part of the photograph into the middle, as near as it fits.
  show(line: readonly (readonly number[])[]): void {
    const xs = line.map((p) => p[0] ?? 0);
    const ys = line.map((p) => p[1] ?? 0);
    if (xs.length === 0 || this.#wide === 0) return;
    const [x0, x1, y0, y1] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
    this.#by = [0, 0];
    this.#zoom = 1;
    const fits = Math.min(this.#wide / (x1 - x0 || 1), this.#high / (y1 - y0 || 1)) / this.k;
    this.#zoom = Math.min(nearest, Math.max(1, spare * fits));
    const { w, h } = this.#size();
    this.#by = [(w - x0 - x1) / 2, (h - y0 - y1) / 2];
  }

  pan(dx: number, dy: number): void {
    if (this.#zoom > 1) this.#by = [this.#by[0] + dx / this.k, this.#by[1] + dy / this.k];
  }
}

// arrowOf is which way an arrow key goes on the screen.
export function arrowOf(key: string): Pair | undefined {
  const ways: Record<string, Pair> = {
    ArrowLeft: [-1, 0],
    ArrowRight: [1, 0],
    ArrowUp: [0, -1],
    ArrowDown: [0, 1],
  };
  return ways[key];
}
