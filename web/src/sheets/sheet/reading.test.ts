import { expect, test } from 'vitest';
import { at } from './reading';

test('a reading holds until the next', () => {
  const list = [
    { from_mm: 0, here: 'bell' },
    { from_mm: 84, here: 'tail' },
    { from_mm: 180, here: 'body' },
  ];
  expect(at(list, -1)).toBeUndefined();
  expect(at(list, 0)?.here).toBe('bell');
  expect(at(list, 83.9)?.here).toBe('bell');
  expect(at(list, 84)?.here).toBe('tail');
  expect(at(list, 9999)?.here).toBe('body');
  expect(at([], 5)).toBeUndefined();
});
