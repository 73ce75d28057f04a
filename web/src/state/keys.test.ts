import { describe, expect, test } from 'vitest';
import { commandOf, type Key } from './keys';

const key = (name: string, held: Partial<Key> = {}): Key => ({
  key: name,
  shiftKey: false,
  altKey: false,
  ctrlKey: false,
  metaKey: false,
  ...held,
});

describe('the keys', () => {
  test('arrows move the plumb line by a finger, a hand, a hair', () => {
    expect(commandOf(key('ArrowRight'), 'mm')).toEqual({ do: 'move', by: 10 });
    expect(commandOf(key('ArrowLeft', { shiftKey: true }), 'mm')).toEqual({ do: 'move', by: -100 });
    expect(commandOf(key('ArrowRight', { altKey: true }), 'ft-in')).toEqual({
      do: 'move',
      by: 25.4 / 16,
    });
  });

  test('Shift goes back', () => {
    expect(commandOf(key('n'), 'mm')).toEqual({ do: 'finding', by: 1 });
    expect(commandOf(key('N', { shiftKey: true }), 'mm')).toEqual({ do: 'finding', by: -1 });
    expect(commandOf(key('J', { shiftKey: true }), 'mm')).toEqual({ do: 'joint', by: -1 });
  });

  test('undo and redo', () => {
    expect(commandOf(key('z', { ctrlKey: true }), 'mm')).toEqual({ do: 'undo' });
    expect(commandOf(key('Z', { metaKey: true, shiftKey: true }), 'mm')).toEqual({ do: 'redo' });
  });

  test("the browser's own keys are left alone", () => {
    for (const name of ['r', 'l', 'ArrowLeft', '1']) {
      expect(commandOf(key(name, { ctrlKey: true }), 'mm')).toBeUndefined();
    }
    expect(commandOf(key('9'), 'mm')).toBeUndefined();
    expect(commandOf(key('Tab'), 'mm')).toBeUndefined();
  });

  test('sheets by their numbers', () => {
    expect(commandOf(key('4'), 'mm')).toEqual({ do: 'sheet', n: 4 });
  });
});
