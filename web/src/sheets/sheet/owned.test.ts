import { expect, test } from 'vitest';
import type { Handle } from '../../api/types';
import { declared, dragged, ofSelection, put } from './owned';

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
  lanes: ['elevation', 'pieces'],
  marks: [],
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
    marks: ['core', 'core-length'],
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
  expect(ofSelection(all, piece, 'walls')).toEqual([]);
  expect(ofSelection(all, piece, 'pieces')).toEqual([all[0]]);
});

test('a mark names its handles, alone or as all that begin so', () => {
  const coats = handle({ lanes: ['finish'], marks: ['zone-', 'coat-'] });
  const brain = handle({ lanes: ['lights'], marks: ['component-brain'] });
  const all = [coats, brain];
  expect(ofSelection(all, { id: 'zone-body', name: 'body' }, 'finish')).toEqual([coats]);
  expect(ofSelection(all, { id: 'component-brain', name: 'brain' }, 'lights')).toEqual([brain]);
  expect(ofSelection(all, { id: 'component-brainy', name: '' }, 'lights')).toEqual([]);
});

test('what belongs to the same edit goes with it', () => {
  const turn = {
    op: 'put' as const,
    at: { file: 'build.yaml' as const, path: 'components.brain.clocking_deg' },
    text: '90',
  };
  const h = handle({ with: [turn] });
  expect(put(h, '480 mm')).toEqual([turn, { op: 'put', at: h.at, text: '480 mm' }]);
});
