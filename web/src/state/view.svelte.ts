import { clamp, panned, within, zoomed, type Span } from '../draw/station';

// What is selected: a mark of a lane, with its stretch of the build.
export interface Selected {
  id: string; // of the mark: piece-body.foot.+1, fit-tail-body, flag-2
  name: string;
  span?: Span;
}

const mostOpen = 5; // lanes that are open before the sheet scrolls
const leastSeen = 1; // mm

// How the Sheet is looked at: stations, open lanes, the plumb line, the selection.
export class View {
  #whole = $state.raw<Span>({ from: 0, to: 0 });
  #span = $state.raw<Span>({ from: 0, to: 0 });
  #plumb = $state(0);
  #open = $state.raw<readonly string[]>(['elevation', 'pieces']);
  #lane = $state('elevation');
  #selected = $state.raw<Selected>();

  get whole(): Span {
    return this.#whole;
  }

  get span(): Span {
    return this.#span;
  }

  get plumb(): number {
    return this.#plumb;
  }

  get open(): readonly string[] {
    return this.#open;
  }

  get lane(): string {
    return this.#lane;
  }

  get selected(): Selected | undefined {
    return this.#selected;
  }

  // piece is the selected piece's id, if one is.
  get piece(): string | undefined {
    return /^(?:piece|cut|print)-(.+)$/.exec(this.#selected?.id ?? '')?.[1];
  }

  // takeWhole keeps what is looked at when the build grows or shrinks a little; the
  // whole stays the whole.
  takeWhole(whole: Span, worst?: string): void {
    const before = this.#whole;
    if (before.from === whole.from && before.to === whole.to) return;
    const first = before.from === before.to;
    const all = first || (this.#span.from === before.from && this.#span.to === before.to);
    this.#whole = whole;
    this.#span = all ? whole : within(this.#span, whole);
    this.#plumb = first ? (whole.from + whole.to) / 2 : clamp(this.#plumb, whole.from, whole.to);
    if (first) this.#open = openFirst(worst);
  }

  hang(station: number): void {
    this.#plumb = clamp(station, this.#whole.from, this.#whole.to);
    const { from, to } = this.#span;
    if (this.#plumb < from) this.pan(this.#plumb - from);
    if (this.#plumb > to) this.pan(this.#plumb - to);
  }

  move(by: number): void {
    this.hang(this.#plumb + by);
  }

  zoom(factor: number, about = this.#plumb): void {
    this.#span = zoomed(this.#span, factor, about, this.#whole);
  }

  pan(by: number): void {
    this.#span = panned(this.#span, by, this.#whole);
  }

  seeWhole(): void {
    this.#span = this.#whole;
  }

  // fold opens a folded lane and folds an open one; past five, the one opened first
  // folds.
  fold(lane: string): void {
    if (lane === 'elevation') return;
    const others = this.#open.filter((l) => l !== lane);
    if (others.length === this.#open.length) {
      const over = others.length + 1 - mostOpen;
      const kept = over > 0 ? others.filter((l, n) => l === 'elevation' || n > over) : others;
      this.#open = [...kept, lane];
    } else this.#open = others;
  }

  goLane(lane: string): void {
    this.#lane = lane;
  }

  select(mark: Selected | undefined): void {
    this.#selected = mark;
  }

  // extend adds a neighbour's stretch to what is selected.
  extend(mark: Selected): void {
    const a = this.#selected?.span;
    const b = mark.span;
    if (!this.#selected || !a || !b) return this.select(mark);
    const span = { from: Math.min(a.from, b.from), to: Math.max(a.to, b.to) };
    this.#selected = { ...this.#selected, name: `${this.#selected.name}, ${mark.name}`, span };
  }

  // shows reports whether a stretch of the build is looked at.
  shows(span: Span): boolean {
    return span.to > this.#span.from - leastSeen && span.from < this.#span.to + leastSeen;
  }
}

function openFirst(worst?: string): string[] {
  return [...new Set(['elevation', 'pieces', worst ?? 'walls'])];
}
