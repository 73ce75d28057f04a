import type { Units } from './prefs.svelte';

// What a key asks for, wherever no field has the focus.
export type Command =
  | { do: 'move'; by: number } // the plumb line, mm at full size
  | { do: 'lane'; by: 1 | -1 }
  | { do: 'zoom'; by: number }
  | { do: 'whole' }
  | { do: 'select' }
  | { do: 'finding'; by: 1 | -1 }
  | { do: 'joint'; by: 1 | -1 }
  | { do: 'station' }
  | { do: 'units' }
  | { do: 'close' }
  | { do: 'sheet'; n: number }
  | { do: 'undo' }
  | { do: 'redo' }
  | { do: 'keys' };

export interface Key {
  key: string;
  shiftKey: boolean;
  altKey: boolean;
  ctrlKey: boolean;
  metaKey: boolean;
}

const inch = 25.4;

// Steps of the plumb line: a finger, a hand, a hair.
const steps = {
  mm: { plain: 10, shift: 100, alt: 1 },
  'ft-in': { plain: inch / 2, shift: 4 * inch, alt: inch / 16 },
} as const;

export const zoomStep = 1.25;

export function commandOf(key: Key, units: Units): Command | undefined {
  if (key.ctrlKey || key.metaKey) {
    if (key.key.toLowerCase() !== 'z' || key.altKey) return undefined;
    return { do: key.shiftKey ? 'redo' : 'undo' };
  }
  const step = steps[units][key.shiftKey ? 'shift' : key.altKey ? 'alt' : 'plain'];
  switch (key.key) {
    case 'ArrowLeft':
      return { do: 'move', by: -step };
    case 'ArrowRight':
      return { do: 'move', by: step };
  }
  if (key.altKey) return undefined;
  const back = key.shiftKey ? -1 : 1;
  switch (key.key) {
    case 'ArrowUp':
      return { do: 'lane', by: -1 };
    case 'ArrowDown':
      return { do: 'lane', by: 1 };
    case 'Enter':
      return { do: 'select' };
    case 'Escape':
      return { do: 'close' };
    case '+':
    case '=':
      return { do: 'zoom', by: zoomStep };
    case '-':
      return { do: 'zoom', by: 1 / zoomStep };
    case '0':
      return { do: 'whole' };
    case '?':
      return { do: 'keys' };
  }
  switch (key.key.toLowerCase()) {
    case 'n':
      return { do: 'finding', by: back };
    case 'j':
      return { do: 'joint', by: back };
    case 'g':
      return { do: 'station' };
    case 'u':
      return { do: 'units' };
  }
  if (/^[1-8]$/.test(key.key)) return { do: 'sheet', n: Number(key.key) };
  return undefined;
}

// typing reports whether keys go into a field or belong to the control that has the
// focus: there a letter is a letter and Enter presses.
export function typing(target: EventTarget | null, key: string): boolean {
  if (!(target instanceof HTMLElement)) return false;
  if (target.closest('input, textarea, select, [contenteditable]')) return true;
  const control = target.closest('button, a, summary, [role="slider"]');
  return control !== null && (key === 'Enter' || key === ' ' || key.startsWith('Arrow'));
}

// What the list of keys says.
export const keyList: readonly (readonly [string, string])[] = [
  [
    'Left, Right',
    'move the plumb line 10 mm or 1/2 in; with Shift 100 mm or 4 in, with Alt 1 mm or 1/16 in',
  ],
  ['Up, Down', 'the lane above or below'],
  ['Enter', 'select what hangs at the plumb line'],
  ['+, -, 0', 'nearer, farther, the whole'],
  ['N, Shift N', 'next finding, the one before'],
  ['J, Shift J', 'next joint, the one before'],
  ['G', 'go to a station'],
  ['U', 'millimetres or feet and inches'],
  ['Ctrl Z, Ctrl Shift Z', 'undo, redo'],
  ['1 to 8', 'the sheets'],
  ['Esc', 'close and return'],
  ['?', 'this list'],
];
