import { answer, client } from '../api/client';
import { plainName, storePhoto } from '../api/photo';
import { problemOf } from '../api/problem';
import type { components } from '../api/api.gen';
import type { Change, Problem } from '../api/types';
import type { Build } from '../state/build.svelte';

export interface Pick {
  px: [number, number];
  mm: [number, number];
}

// Known is one known length in the photograph, where no mat lies in it; without above it lies
// at the height of the piece's axis.
export interface Known {
  from: readonly [number, number];
  to: readonly [number, number];
  length: string;
  doubt: string;
  above?: string;
}

type GridSeen = components['schemas']['GridSeen'];

export const leastPicks = 8; // what the measurement asks for
export const leastApart = 50; // px between the ends of a known length: nearer, it sets no scale

const file = 'build.yaml' as const;

// The first build as it is gathered, step by step; each step writes what it decided.
export class Draft {
  readonly build: Build;
  #photo = $state('');
  #marks = $state('');
  #grid = $state.raw<GridSeen>();
  #known: Known | undefined;
  #told = 0; // that the lines are apart, mm; 0: the photograph says it
  #looking = false; // for the grid
  #sent = $state<number>();
  #problem = $state.raw<Problem>();
  #picks = $state.raw<readonly Pick[]>([]);
  #done = $state.raw<ReadonlySet<number>>(new Set());

  constructor(build: Build) {
    this.build = build;
  }

  get photo(): string {
    return this.#photo;
  }

  // sent is how much of the photograph has gone, while it goes.
  get sent(): number | undefined {
    return this.#sent;
  }

  get problem(): Problem | undefined {
    return this.#problem;
  }

  get picks(): readonly Pick[] {
    return this.#picks;
  }

  // grid is the mat's as it was found by itself; while it is looked for there is none.
  get grid(): GridSeen | undefined {
    return this.#grid;
  }

  // unlooked is whether nobody has looked for it yet, nor looks now.
  get unlooked(): boolean {
    return !this.#grid && !this.#problem && !this.#looking;
  }

  // lookForGrid looks for it in the photograph; told is what its lines are known to be
  // apart.
  async lookForGrid(told = 0): Promise<void> {
    this.#looking = true;
    this.#told = told;
    this.#grid = undefined;
    this.#problem = undefined;
    const path = { build: this.build.id, name: this.#photo.replace(/^photos\//, '') };
    const params = { path, query: { pitch_mm: told } };
    try {
      this.#grid = await answer(client.GET('/api/builds/{build}/photos/{name}/grid', { params }));
    } catch (error) {
      this.#problem = problemOf(error);
    }
    this.#looking = false;
  }

  // takeGrid goes on with what was found.
  takeGrid(): void {
    this.#marks = '';
    this.#known = undefined;
    this.pass(2);
  }

  // takeKnown goes on without a mat.
  takeKnown(known: Known): void {
    this.#marks = '';
    this.#told = 0;
    this.#known = known;
    this.pass(2);
  }

  done(step: number): boolean {
    return this.#done.has(step);
  }

  async takePhoto(chosen: File): Promise<void> {
    await this.#try(1, async () => {
      this.#sent = 0;
      const put = await storePhoto(
        this.build.id,
        plainName(chosen.name),
        chosen,
        (s) => (this.#sent = s),
      );
      this.#photo = put.file;
      this.#picks = [];
      this.#grid = undefined;
    });
    this.#sent = undefined;
  }

  pick(px: [number, number], mm: [number, number]): void {
    this.#picks = [...this.#picks, { px, mm }];
  }

  drop(at: number): void {
    this.#picks = this.#picks.filter((_, n) => n !== at);
  }

  async storePicks(pitch: number): Promise<void> {
    await this.#try(2, async () => {
      const path = { build: this.build.id, name: this.#photo.replace(/^photos\//, '') };
      const body = {
        pitch_mm: pitch,
        marks: this.#picks.map((p) => ({ px: [...p.px], mm: [...p.mm] })),
      };
      const stored = await answer(
        client.PUT('/api/builds/{build}/marks/{name}', { params: { path }, body }),
      );
      this.#marks = stored.file;
      this.#known = undefined;
    });
  }

  // measureIt takes the photograph in the place of what the build had, with one part as
  // long as the reading.
  async measureIt(length: string, doubt: string, ratio: string): Promise<void> {
    await this.#try(4, async () => {
      const known = await answer(
        client.GET('/api/builds/{build}/declaration', {
          params: { path: { build: this.build.id } },
        }),
      );
      const has = (path: string) =>
        known.values.some(
          (v) => v.at.file === file && (v.at.path === path || v.at.path.startsWith(`${path}.`)),
        );
      const put = (path: string, text: string): Change => ({ op: 'put', at: { file, path }, text });
      const drop = (path: string): Change[] =>
        has(path) ? [{ op: 'drop', at: { file, path } }] : [];
      const parts = new Set(
        known.values
          .filter((v) => v.at.path.startsWith('parts.'))
          .map((v) => v.at.path.split('.')[1] ?? ''),
      );
      const changes = [
        { ...put('reference.photo', this.#photo), free: true },
        ...(this.#marks
          ? [{ ...put('reference.marks', this.#marks), free: true }]
          : drop('reference.marks')),
        ...(this.#told && !this.#marks
          ? [put('reference.grid', `${this.#told} mm`)]
          : drop('reference.grid')),
        ...(this.#known
          ? [put('reference.known_length', knownText(this.#known))]
          : drop('reference.known_length')),
        ...drop('reference.outline'),
        put('reference.length', `${length} ± ${doubt} ref`),
        put('enlarge.ratio', ratio),
        ...drop('enlarge.length'),
        ...drop('core'),
        ...drop('joints'),
        put('parts.whole', `{from: 0 ref, to: ${length} ref, wall: 2.4 mm}`),
        ...[...parts].filter((name) => name !== 'whole').flatMap((name) => drop(`parts.${name}`)),
      ];
      if (!(await this.build.edit(changes, 'the first measurement'))) throw new Error('refused');
    });
  }

  async setPrinter(id: string, bed: [string, string, string], nozzle: string): Promise<void> {
    await this.#try(5, async () => {
      const at = (key: string) => ({ file: 'shop.yaml' as const, path: `printers.${id}.${key}` });
      const changes: Change[] = [
        { op: 'put', at: at('build'), text: `[${bed.map((x) => `${x} mm`).join(', ')}]` },
        { op: 'put', at: at('nozzle'), text: `${nozzle} mm` },
      ];
      if (!(await this.build.edit(changes, 'the printer'))) throw new Error('refused');
    });
  }

  pass(step: number): void {
    this.#done = new Set([...this.#done, step]);
  }

  // What the build itself refused is shown by the build's notices.
  async #try(step: number, work: () => Promise<void>): Promise<void> {
    this.#problem = undefined;
    try {
      await work();
      this.pass(step);
    } catch (error) {
      if (!this.build.refused) this.#problem = problemOf(error);
    }
  }
}

function knownText(k: Known): string {
  const px = (p: readonly [number, number]) => `[${p[0].toFixed(1)}, ${p[1].toFixed(1)}]`;
  const lies = k.above === undefined ? 'on: axis' : `above: ${k.above} mm`;
  return `{length: ${k.length} ± ${k.doubt} mm, from: ${px(k.from)}, to: ${px(k.to)}, ${lies}}`;
}
