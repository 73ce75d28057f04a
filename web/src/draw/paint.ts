import type { Scene, SceneItem } from '../api/types';

// Draws a scene of the server's as SVG. A lane has thousands of lines and is redrawn
// whole, so its nodes are made here and not by the page's templates.

const ns = 'http://www.w3.org/2000/svg';

export interface Painting {
  prefix: string; // before every id, so that two drawings of a page differ
  fluid?: boolean; // as wide as its place; else at its size on paper
}

// paint returns the drawing and, to lie over it, its lettering: what passes between the
// two (the plumb line) leaves the letters readable. The lettering is for eyes alone; marks
// say aloud what they are.
export function paint(scene: Scene, how: Painting): [SVGSVGElement, SVGSVGElement] {
  const svg = sheet(scene, how);
  svg.setAttribute('role', 'group');
  svg.setAttribute('aria-label', [scene.title, scene.desc].filter(Boolean).join('. '));
  svg.setAttribute('class', 'scene');
  const letters = sheet(scene, how);
  letters.setAttribute('aria-hidden', 'true');
  letters.setAttribute('class', 'letters');
  append(svg, scene.items, { prefix: how.prefix, letters });
  return [svg, letters];
}

interface Where {
  prefix: string;
  letters: Element;
}

function sheet(scene: Scene, how: Painting): SVGSVGElement {
  const svg = element('svg', {
    viewBox: `0 0 ${scene.width_mm} ${scene.height_mm}`,
    fill: 'none',
    'stroke-linejoin': 'round',
  }) as SVGSVGElement;
  if (!how.fluid) {
    svg.setAttribute('width', `${scene.width_mm}mm`);
    svg.setAttribute('height', `${scene.height_mm}mm`);
  }
  return svg;
}

function append(to: Element, items: readonly SceneItem[] | undefined, where: Where): void {
  for (const item of items ?? []) {
    switch (item.kind) {
      case 'group':
        to.append(group(item, where));
        break;
      case 'path':
        to.append(path(item, where.prefix));
        break;
      case 'text':
        where.letters.append(text(item, where.prefix));
        break;
      case 'image':
        to.append(image(item, where.prefix));
        break;
    }
  }
}

function group(item: SceneItem, where: Where): Element {
  const { prefix } = where;
  const g = element('g', { id: named(item, prefix), class: item.class });
  for (const [name, value] of Object.entries(item.data ?? {}))
    g.setAttribute(`data-${name}`, value);
  if (item.title) {
    // A mark: pressed by pointer, reached by the plumb line and Enter, said aloud.
    g.setAttribute('role', 'img');
    g.setAttribute('aria-label', item.title);
    g.setAttribute('data-mark', item.id ?? '');
  }
  if (item.clip) {
    const id = `${prefix}clip-${item.id ?? `${item.clip.x_mm}-${item.clip.w_mm}`}`;
    const clip = element('clipPath', { id });
    const { x_mm: x, y_mm: y, w_mm: width, h_mm: height } = item.clip;
    clip.append(element('rect', { x, y, width, height }));
    g.append(clip);
    g.setAttribute('clip-path', `url(#${id})`);
  }
  append(g, item.items, where);
  return g;
}

function path(item: SceneItem, prefix: string): Element {
  return element('path', {
    id: named(item, prefix),
    d: item.d,
    fill: ink(item.fill),
    'fill-rule': item.even_odd ? 'evenodd' : undefined,
    stroke: ink(item.stroke),
    'stroke-width': item.width_mm,
    'stroke-dasharray': item.dash_mm?.join(' '),
    opacity: item.opacity,
  });
}

function text(item: SceneItem, prefix: string): Element {
  const { x_mm: x = 0, y_mm: y = 0, rotate_deg: turn, halo_mm: halo } = item;
  const t = element('text', {
    id: named(item, prefix),
    class: item.class,
    x: turn ? 0 : x,
    y: turn ? (item.drop_mm ?? 0) : y,
    transform: turn ? `translate(${x} ${y}) rotate(${turn})` : undefined,
    'font-size': item.size_mm,
    'text-anchor': item.anchor === 'start' ? undefined : item.anchor,
    stroke: halo ? ink('sheet') : undefined,
    'stroke-width': halo ? 2 * halo : undefined,
    'paint-order': halo ? 'stroke' : undefined,
  });
  for (const run of item.runs ?? []) {
    const span = element('tspan', {
      fill: ink(run.colour) ?? ink('ink'),
      'font-weight': run.bold ? 600 : undefined,
      'font-style': run.italic ? 'italic' : undefined,
    });
    span.textContent = run.text;
    t.append(span);
  }
  return t;
}

function image(item: SceneItem, prefix: string): Element {
  return element('image', {
    id: named(item, prefix),
    x: item.x_mm ?? 0,
    y: item.y_mm ?? 0,
    width: item.w_mm,
    height: item.h_mm,
    preserveAspectRatio: 'none',
    role: 'img',
    'aria-label': item.title,
    href: item.href,
  });
}

// ink is a named colour as the page's variable, so that night needs no new drawing.
export function ink(colour: string | undefined): string | undefined {
  if (!colour) return undefined;
  return colour.startsWith('#') ? colour : `var(--${colour})`;
}

function named(item: SceneItem, prefix: string): string | undefined {
  return item.id ? prefix + item.id : undefined;
}

function element(
  name: string,
  attributes: Record<string, string | number | undefined>,
): SVGElement {
  const e = document.createElementNS(ns, name);
  for (const [key, value] of Object.entries(attributes)) {
    if (value !== undefined) e.setAttribute(key, String(value));
  }
  return e;
}
