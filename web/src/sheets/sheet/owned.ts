import type { Change, Handle } from '../../api/types';
import { clamp } from '../../draw/station';
import type { Selected } from '../../state/view.svelte';

// ofSelection are the handles on a lane of what is selected: those that name its mark; of a
// piece the ends and walls of its part; of anything else the cuts and openings in its
// stretch.
export function ofSelection(
  handles: readonly Handle[],
  selected?: Selected,
  lane = 'elevation',
): Handle[] {
  if (!selected) return [];
  const here = handles.filter((h) => h.lanes.includes(lane));
  const named = here.filter((h) => h.marks.some((m) => means(m, selected.id)));
  if (named.length) return named;
  const part = /^(?:piece|cut|print)-([^.]+)\./.exec(selected.id)?.[1];
  if (part !== undefined) {
    return here.filter(
      (h) => h.at.path.startsWith(`parts.${part}.`) || (h.provisional && h.part === part),
    );
  }
  const span = selected.span;
  const slack = 1;
  return here.filter(
    (h) =>
      span !== undefined &&
      /^(cuts|openings)(\.|$)/.test(h.at.path) &&
      h.station_mm >= span.from - slack &&
      h.station_mm <= span.to + slack,
  );
}

function means(mark: string, id: string): boolean {
  return mark.endsWith('-') ? id.startsWith(mark) : id === mark;
}

// put writes a handle's value, with what belongs to the same edit.
export function put(h: Handle, text: string): Change[] {
  return [...(h.with ?? []), { op: 'put', at: h.at, text }];
}

const catchPx = 7; // a drag nearer than this to a snap lies on it

// dragged is where a handle comes to lie: caught by a snap, else at a whole step, inside
// its bounds.
export function dragged(h: Handle, to: number, pxPerMM: number, step: number): number {
  const near = h.snaps_mm
    .map((s) => ({ s, away: Math.abs(s - to) * pxPerMM }))
    .filter((c) => c.away < catchPx)
    .sort((a, b) => a.away - b.away)[0];
  const at = near ? near.s : Math.round(to / step) * step;
  return clamp(at, h.least_mm, h.most_mm);
}

// declared writes a full-size place as its owner declares it: of the shop in mm, of the
// reference in mm of the reference.
export function declared(h: Handle, full: number, ratio: number): string {
  const round = (x: number, places: number) => String(Number(x.toFixed(places)));
  if (h.owner === 'reference' && ratio > 0) return `${round(full / ratio, 3)} ref`;
  return `${round(full, 2)} mm`;
}
