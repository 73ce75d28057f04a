import type { components } from '../../api/api.gen';

type FileLine = components['schemas']['FileLine'];

export interface Folder {
  name: string;
  says: string;
  files: FileLine[];
}

// What the folders of out/ hold, in the order of use.
const known: readonly (readonly [string, string])[] = [
  ['', 'The book, lists and the calendar'],
  ['test-slice', 'Test slice: print and try it first'],
  ['pieces', 'Print files of the pieces'],
  ['templates', 'Templates at full size'],
  ['controller', "The controller's program"],
];

export function foldersOf(files: readonly FileLine[]): Folder[] {
  const out = new Map<string, FileLine[]>();
  for (const file of files) {
    const parts = file.path.replace(/^out\//, '').split('/');
    const folder = parts.length > 1 ? (parts[0] ?? '') : '';
    out.set(folder, [...(out.get(folder) ?? []), file]);
  }
  const rank = (name: string) => {
    const at = known.findIndex(([k]) => k === name);
    return at < 0 ? known.length : at;
  };
  return [...out]
    .map(([name, list]) => ({ name, says: known[rank(name)]?.[1] ?? name, files: list }))
    .sort((a, b) => rank(a.name) - rank(b.name));
}
