// The station transform: where a station lies across a lane, as the server draws it.

export interface Span {
  from: number; // stations, mm at full size
  to: number;
}

export interface Across {
  span: Span;
  width: number; // of the lane, mm of paper
  pad: number; // kept free at both ends, mm of paper
}

export const pxPerMM = 96 / 25.4; // CSS Values 4: 96 px to the inch

export function length(span: Span): number {
  return span.to - span.from;
}

// scale is mm of paper for a mm of the build.
export function scale(a: Across): number {
  return (a.width - 2 * a.pad) / length(a.span);
}

export function xOf(a: Across, station: number): number {
  return (a.pad + (station - a.span.from) * scale(a)) * pxPerMM;
}

export function stationAt(a: Across, px: number): number {
  return a.span.from + (px / pxPerMM - a.pad) / scale(a);
}

// crowded is whether words to the right of a station would run over the edge.
export function crowded(a: Across, station: number): boolean {
  const mostWords = 0.7; // of the width
  return xOf(a, station) > mostWords * a.width * pxPerMM;
}

export function clamp(x: number, low: number, high: number): number {
  return Math.min(Math.max(x, low), high);
}

// within moves a span so that it lies in the whole; one that is longer becomes it.
export function within(span: Span, whole: Span): Span {
  const long = length(span);
  if (long >= length(whole)) return whole;
  const from = clamp(span.from, whole.from, whole.to - long);
  return { from, to: from + long };
}

const leastSpan = 20; // mm; nearer than this an elevation shows nothing but a wall

// zoomed is the span seen closer by a factor, a station kept where it is.
export function zoomed(span: Span, factor: number, about: number, whole: Span): Span {
  const long = clamp(length(span) / factor, Math.min(leastSpan, length(whole)), length(whole));
  const share = length(span) > 0 ? (about - span.from) / length(span) : 0.5;
  const from = about - clamp(share, 0, 1) * long;
  return within({ from, to: from + long }, whole);
}

export function panned(span: Span, by: number, whole: Span): Span {
  return within({ from: span.from + by, to: span.to + by }, whole);
}
