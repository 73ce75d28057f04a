import { describe, expect, test } from 'vitest';
import { length, panned, stationAt, within, xOf, zoomed, type Across } from './station';

const whole = { from: 0, to: 1311 };
const across: Across = { span: { from: 100, to: 600 }, width: 274, pad: 12 };

describe('the station transform', () => {
  test('a span ends at the pads', () => {
    expect(xOf(across, 100)).toBeCloseTo((12 * 96) / 25.4, 9);
    expect(xOf(across, 600)).toBeCloseTo((262 * 96) / 25.4, 9);
  });

  test('back is where it came from', () => {
    for (const station of [-30, 100, 333.3, 600, 900]) {
      expect(stationAt(across, xOf(across, station))).toBeCloseTo(station, 9);
    }
  });

  test('zooming keeps the station under the hand', () => {
    const near = zoomed(across.span, 2, 200, whole);
    expect(length(near)).toBeCloseTo(250, 9);
    const before = xOf(across, 200);
    expect(xOf({ ...across, span: near }, 200)).toBeCloseTo(before, 9);
  });

  test('nothing is seen beyond the build', () => {
    expect(within({ from: -50, to: 450 }, whole)).toEqual({ from: 0, to: 500 });
    expect(panned({ from: 900, to: 1200 }, 500, whole)).toEqual({ from: 1011, to: 1311 });
    expect(zoomed({ from: 0, to: 1311 }, 0.5, 700, whole)).toEqual(whole);
  });

  test('no nearer than a wall', () => {
    expect(length(zoomed({ from: 0, to: 30 }, 100, 10, whole))).toBeCloseTo(20, 9);
  });
});
