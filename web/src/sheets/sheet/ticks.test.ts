import { describe, expect, test } from 'vitest';
import { ticks } from './ticks';

const lettered = (list: { station: number; long: boolean }[]) =>
  list.filter((t) => t.long).map((t) => t.station);

describe('the scale of stations', () => {
  test('hundreds at a metre across a screen', () => {
    expect(lettered(ticks({ from: -10, to: 420 }, 0.7, 'mm', 1))).toEqual([0, 100, 200, 300, 400]);
  });

  test('the reference counts in its own millimetres', () => {
    expect(lettered(ticks({ from: 0, to: 300 }, 0.7, 'mm', 6))).toEqual([0, 120, 240]);
  });

  test('six inches', () => {
    const all = ticks({ from: 0, to: 320 }, 0.7, 'ft-in', 1);
    expect(lettered(all).map((s) => Math.round(s / 25.4))).toEqual([0, 6, 12]);
  });

  test('nothing where nothing is seen', () => {
    expect(ticks({ from: 0, to: 0 }, 0, 'mm', 0)).toEqual([]);
  });
});
