import { expect, test } from 'vitest';
import { hashOf, placeOf, startOf, type Place } from './route.svelte';

test('every place has an address that leads back to it', () => {
  const places: Place[] = [
    { kind: 'shelf' },
    { kind: 'sheet', build: 'foyer-rocket', sheet: 'lights' },
    { kind: 'first', build: 'a b' },
    { kind: 'today', build: 'x' },
    { kind: 'piece', build: 'x', piece: 'body.foot.+1' },
    { kind: 'piece', build: 'x', piece: 'a/b%c' },
  ];
  for (const place of places) expect(placeOf(hashOf(place))).toEqual(place);
});

test('an address that means nothing leads to the verdict', () => {
  expect(placeOf('#/x/nonsense')).toEqual({ kind: 'sheet', build: 'x', sheet: 'verdict' });
  expect(placeOf('#/x/%E0%A4%A')).toEqual({ kind: 'sheet', build: 'x', sheet: 'verdict' });
  expect(placeOf('')).toEqual({ kind: 'shelf' });
});

test("the terminal's address and a label's lead to the build", () => {
  expect(startOf('/')).toBeUndefined();
  expect(placeOf(startOf('/b/rocket') ?? '')).toEqual({
    kind: 'sheet',
    build: 'rocket',
    sheet: 'verdict',
  });
  expect(placeOf(startOf('/b/rocket/bench/A3') ?? '')).toEqual({
    kind: 'piece',
    build: 'rocket',
    piece: 'A3',
  });
});
