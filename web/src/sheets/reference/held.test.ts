import { describe, expect, test } from 'vitest';
import { arrowOf, Held } from './held.svelte';

function held(): Held {
  const h = new Held(() => ({ w: 3000, h: 2000 }));
  h.wide = 900;
  h.high = 800;
  return h;
}

describe('a photograph as it is held', () => {
  test('it fits its place, and pixels come back', () => {
    const h = held();
    expect(h.k).toBeCloseTo(0.3);
    expect(h.at([0, 0])).toEqual([0, 100]);
    const [x, y] = h.at([1234, 567]);
    expect(h.px(x, y)[0]).toBeCloseTo(1234);
    expect(h.px(x, y)[1]).toBeCloseTo(567);
    expect(h.px(-500, 5000)).toEqual([0, 1999]);
  });

  test('nearer keeps the place under the pointer', () => {
    const h = held();
    const before = h.px(700, 300);
    h.nearer(3, [700, 300]);
    expect(h.px(700, 300)[0]).toBeCloseTo(before[0]);
    expect(h.px(700, 300)[1]).toBeCloseTo(before[1]);
    h.pan(10, -5);
    expect(h.px(710, 295)[0]).toBeCloseTo(before[0]);
    h.nearer(0);
    expect(h.zoom).toBe(1);
    expect(h.at([0, 0])).toEqual([0, 100]);
  });

  test('a part is shown in the middle, whole', () => {
    const h = held();
    h.show([
      [900, 500],
      [1500, 800],
    ]);
    expect(h.at([1200, 650])[0]).toBeCloseTo(450);
    expect(h.at([1200, 650])[1]).toBeCloseTo(400);
    expect(h.at([900, 500])[0]).toBeCloseTo(0.1 * 900);
    h.show([]);
    expect(h.at([1200, 650])[0]).toBeCloseTo(450);
  });

  test('a place of another size keeps the middle', () => {
    const h = held();
    h.nearer(4, [700, 300]);
    const middle = h.px(450, 400);
    h.wide = 700;
    h.high = 500;
    expect(h.px(350, 250)[0]).toBeCloseTo(middle[0]);
    expect(h.px(350, 250)[1]).toBeCloseTo(middle[1]);
  });

  test('the whole is not panned', () => {
    const h = held();
    h.pan(50, 50);
    expect(h.at([0, 0])).toEqual([0, 100]);
  });

  test('arrows', () => {
    expect(arrowOf('ArrowUp')).toEqual([0, -1]);
    expect(arrowOf('Enter')).toBeUndefined();
  });
});
