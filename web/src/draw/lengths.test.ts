import { describe, expect, test } from 'vitest';
import { figure, stationTyped, tenth } from './lengths';

describe('lengths', () => {
  test('whole millimetres', () => {
    expect(figure(588.4, 'mm')).toBe('588');
    expect(figure(-0.2, 'mm')).toBe('0');
    expect(tenth(98.04, 'mm')).toBe('98.0');
  });

  // 4 ft 3 5/8 in = 51.625 in = 1311.275 mm (1 in = 25.4 mm exactly, ISO 80000-3).
  test('feet, inches and sixteenths, reduced', () => {
    expect(figure(1311.275, 'ft-in')).toBe(`4'-3 5/8"`);
    expect(figure(25.4 / 16, 'ft-in')).toBe(`1/16"`);
    expect(figure(304.8, 'ft-in')).toBe(`1'-0"`);
    expect(figure(304.8 + 25.4 * 0.375, 'ft-in')).toBe(`1'-0 3/8"`);
    expect(figure(0, 'ft-in')).toBe(`0"`);
  });

  test('a station that is typed', () => {
    expect(stationTyped('208', 'mm')).toBe(208);
    expect(stationTyped('20.8 cm', 'mm')).toBe(208);
    expect(stationTyped('8 3/16', 'ft-in')).toBeCloseTo(207.9625, 9);
    expect(stationTyped(`1'-4 9/16"`, 'ft-in')).toBeCloseTo(16.5625 * 25.4, 9);
    expect(stationTyped(`3/8`, 'ft-in')).toBeCloseTo(9.525, 9);
    for (const wrong of ['', 'tail', '1/0', '"']) {
      expect(stationTyped(wrong, 'ft-in')).toBeUndefined();
    }
  });
});
