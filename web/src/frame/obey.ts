import type { Build } from '../state/build.svelte';
import type { Command } from '../state/keys';
import type { Prefs } from '../state/prefs.svelte';
import type { Route } from '../state/route.svelte';
import type { View } from '../state/view.svelte';
import type { SheetID } from './sheets';

interface Hands {
  build: Build;
  prefs: Prefs;
  view: View;
  sheet: SheetID;
  route: Route;
}

type Asked = Command | { do: 'finding'; by: 1 | -1; severity?: string };

// obey does what a key asked for; false where it means nothing here.
export function obey(c: Asked, on: Hands): boolean {
  const { build, prefs, view, sheet } = on;
  switch (c.do) {
    case 'undo':
      void build.undo();
      return true;
    case 'redo':
      void build.redo();
      return true;
    case 'units':
      prefs.turnUnits();
      return true;
    case 'finding':
      return stepFinding(c.by, 'severity' in c ? c.severity : undefined, on);
    case 'close':
      build.dismiss();
      view.select(undefined);
      return true;
  }
  if (sheet !== 'sheet' && sheet !== 'lights') return false;
  switch (c.do) {
    case 'move':
      view.move(c.by);
      return true;
    case 'zoom':
      view.zoom(c.by);
      return true;
    case 'whole':
      view.seeWhole();
      return true;
    case 'lane':
      return stepLane(c.by, view);
    case 'select':
      return selectHere(view);
    case 'joint':
      return stepJoint(c.by, view);
    default:
      return false;
  }
}

// stepFinding goes to the next finding along the build; those without a station come
// last.
function stepFinding(by: 1 | -1, severity: string | undefined, on: Hands): boolean {
  const { build, view, route } = on;
  const list = (build.findings.value ?? [])
    .filter((f) => !severity || f.severity === severity)
    .sort((a, b) => (a.station_mm ?? Infinity) - (b.station_mm ?? Infinity));
  if (list.length === 0) return false;
  const at = list.findIndex((f) => f.id === view.selected?.id);
  const next =
    list[(at < 0 ? (by > 0 ? 0 : list.length - 1) : at + by + list.length) % list.length];
  if (!next) return false;
  const station = next.station_mm;
  if (station !== undefined) view.hang(station);
  const span = station === undefined ? undefined : { from: station, to: station };
  view.select({ id: next.id, name: `${next.severity}: ${next.message}`, span });
  if (on.sheet !== 'sheet') route.go({ kind: 'sheet', build: build.id, sheet: 'sheet' });
  return true;
}

function stepLane(by: 1 | -1, view: View): boolean {
  const fields = [...document.querySelectorAll<HTMLElement>('[data-lane]')];
  const at = fields.findIndex((f) => f.dataset.lane === view.lane);
  const to = fields[Math.min(fields.length - 1, Math.max(0, at + by))];
  if (!to) return false;
  to.focus();
  to.scrollIntoView({ block: 'nearest' });
  return true;
}

interface Drawn {
  id: string;
  name: string;
  from: number;
  to: number;
}

function marks(within: string): Drawn[] {
  return [...document.querySelectorAll<SVGGElement>(`${within} [data-mark][data-from]`)].map(
    (g) => ({
      id: g.dataset.mark ?? '',
      name: g.getAttribute('aria-label') ?? '',
      from: Number(g.dataset.from),
      to: Number(g.dataset.to),
    }),
  );
}

// selectHere selects the shortest mark of the lane that hangs at the plumb line.
function selectHere(view: View): boolean {
  const near = 2; // mm to either side
  const here = marks(`[data-lane="${view.lane}"]`)
    .filter((m) => m.from - near <= view.plumb && m.to + near >= view.plumb)
    .sort((a, b) => a.to - a.from - (b.to - b.from));
  const at = here.findIndex((m) => m.id === view.selected?.id);
  const mark = here[(at + 1) % Math.max(1, here.length)]; // again: the next that lies here
  if (!mark) return false;
  view.select({ id: mark.id, name: mark.name, span: { from: mark.from, to: mark.to } });
  return true;
}

function stepJoint(by: 1 | -1, view: View): boolean {
  const stations = [
    ...new Set(
      marks('[data-lane="elevation"]')
        .filter((m) => m.id.startsWith('piece-'))
        .flatMap((m) => [m.from, m.to]),
    ),
  ].sort((a, b) => a - b);
  const inner = stations.slice(1, -1);
  const least = 0.5; // mm, so that a joint is left when it is stood on
  const to =
    by > 0
      ? inner.find((s) => s > view.plumb + least)
      : inner.findLast((s) => s < view.plumb - least);
  if (to === undefined) return false;
  view.hang(to);
  return true;
}
