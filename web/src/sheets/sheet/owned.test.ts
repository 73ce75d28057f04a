import { expect, test } from 'vitest';
import type { Handle } from '../../api/types';
import { declared, dragged, ofSelection } from './owned';

const handle = (over: Partial<Handle>): Handle => ({
  id: 'handle-parts-body-to',
  name: 'nose of body',
  kind: 'station',
  part: 'body',
  station_mm: 828,
  value_mm: 828,
  says: '828 mm',
  text: '138 ref',
  owner: 'reference',
  at: { file: 'build.yaml', path: 'parts.body.to' },
  snaps_mm: [180, 828, 1008],
  least_mm: 0,
  most_mm: 1311,
  ...over,
});

test('a drag is caught by what is near, else lies at a whole step, and stays inside', () => {
  const h = handle({});
  expect(dragged(h, 1004, 0.7, 1)).toBe(1008);
  expect(dragged(h, 700.4, 0.7, 1)).toBe(700);
  expect(dragged(h, 5000, 0.7, 1)).toBe(1311);
});

test('a place is declared as its owner does', () => {
  expect(declared(handle({}), 834, 6)).toBe('139 ref');
  expect(declared(handle({ owner: 'shop' }), 834.5, 6)).toBe('834.5 mm');
});

test('a piece has the lengths of its part, the core its ends', () => {
  const core = handle({
    part: undefined,
    at: { file: 'build.yaml', path: 'core.from' },
    station_mm: 90,
  });
  const hole = handle({
    id: 'handle-openings-hatch-at',
    part: 'body',
    at: { file: 'build.yaml', path: 'openings.hatch.at' },
    station_mm: 480,
  });
  const all = [handle({}), core, hole];
  const piece = { id: 'piece-body.foot.+1', name: 'body 1 of 3', span: { from: 180, to: 400 } };
  expect(ofSelection(all, piece)).toEqual([all[0]]);
  expect(ofSelection(all, { id: 'core', name: 'pipe', span: { from: 90, to: 1086 } })).toEqual([
    core,
  ]);
  expect(
    ofSelection(all, { id: 'component-brain', name: 'brain', span: { from: 450, to: 500 } }),
  ).toEqual([hole]);
  expect(ofSelection(all, undefined)).toEqual([]);
});
