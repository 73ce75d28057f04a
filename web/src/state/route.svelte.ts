import { isSheet, type SheetID } from '../frame/sheets';

// A place of the page: the shelf of builds, or a build's sheet, its
// first steps, its bench page for a phone.
export type Place =
  | { kind: 'shelf' }
  | { kind: 'sheet'; build: string; sheet: SheetID }
  | { kind: 'first'; build: string }
  | { kind: 'today'; build: string }
  | { kind: 'piece'; build: string; piece: string };

// The place is the part of the address after #, so that a link to it is a link.
export function placeOf(hash: string): Place {
  const [build = '', head = '', ...tail] = hash.replace(/^#\/?/, '').split('/').map(safely);
  if (!build) return { kind: 'shelf' };
  if (head === 'bench') {
    const piece = tail.join('/');
    return piece ? { kind: 'piece', build, piece } : { kind: 'today', build };
  }
  if (head === 'first') return { kind: 'first', build };
  return { kind: 'sheet', build, sheet: isSheet(head) ? head : 'verdict' };
}

export function hashOf(place: Place): string {
  if (place.kind === 'shelf') return '#/';
  const build = `#/${encodeURIComponent(place.build)}`;
  switch (place.kind) {
    case 'sheet':
      return `${build}/${place.sheet}`;
    case 'first':
      return `${build}/first`;
    case 'today':
      return `${build}/bench`;
    case 'piece':
      return `${build}/bench/${encodeURIComponent(place.piece)}`;
  }
}

function safely(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return part;
  }
}

// startOf is the address behind # that a path of the program's asks for: /b/ID, as the
// terminal shows it and a piece's label has it.
export function startOf(path: string): string | undefined {
  const found = /^\/b\/(.+?)\/?$/.exec(path);
  return found ? `#/${found[1]}` : undefined;
}

export class Route {
  #place = $state.raw<Place>(placeOf(location.hash));

  get place(): Place {
    return this.#place;
  }

  go(place: Place): void {
    location.hash = hashOf(place);
  }

  constructor() {
    const start = startOf(location.pathname);
    if (!start) return;
    history.replaceState(null, '', `/${location.hash || start}`);
    this.#place = placeOf(location.hash);
  }

  // Follows the address until the returned function is called.
  follow(): () => void {
    const read = () => (this.#place = placeOf(location.hash));
    addEventListener('hashchange', read);
    return () => removeEventListener('hashchange', read);
  }
}
