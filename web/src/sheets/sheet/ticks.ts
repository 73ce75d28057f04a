import type { Span } from '../../draw/station';
import type { Units } from '../../state/prefs.svelte';

export interface Tick {
  station: number;
  long: boolean; // lettered
}

const inch = 25.4;
const stepsMM = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000];
const stepsInch = [1 / 16, 1 / 8, 1 / 4, 1 / 2, 1, 2, 3, 6, 12, 24, 60, 120];
const leastPx = 64; // between lettered ticks
const mostTicks = 2000;

// ticks are the marks of a scale of stations, which counts in the unit so many times
// enlarged: 1 for full size, the ratio for the reference.
export function ticks(span: Span, pxPerMM: number, units: Units, times: number): Tick[] {
  const unit = units === 'mm' ? times : inch * times;
  const steps = units === 'mm' ? stepsMM : stepsInch;
  const step = steps.find((s) => s * unit * pxPerMM >= leastPx) ?? steps[steps.length - 1] ?? 1;
  const parts = units === 'mm' ? 5 : step >= 6 ? 6 : 2;
  const small = (step / parts) * unit;
  if (!(small > 0) || !((span.to - span.from) / small < mostTicks)) return [];
  const out: Tick[] = [];
  for (let n = Math.ceil(span.from / small); n * small <= span.to; n++) {
    out.push({ station: n * small || 0, long: n % parts === 0 });
  }
  return out;
}
