import { answer, client } from '../api/client';
import { problemOf } from '../api/problem';
import type { AsOf, Change, Consequences, LogEntry, Problem } from '../api/types';

export interface Told {
  says: string;
  undo?: string; // name of the step that can be taken back
  waits?: boolean; // for the consequences, which come with the next result
}

interface Written {
  as_of: AsOf;
  name: string;
}

interface Path {
  path: { build: string };
}

// Every change that the page makes, each resting on the version that was looked at. What
// came of it is told, or why it was refused.
export class Writer {
  readonly id: string;
  readonly #moved: () => void;
  #refused = $state.raw<Problem>();
  #told = $state.raw<Told>();
  #busy = $state(0);
  #base = '';
  #state = 0; // that the base is of
  #last: Promise<unknown> = Promise.resolve(); // write: the next rests on what it led to

  // moved is called when the build has moved on.
  constructor(id: string, moved: () => void) {
    this.id = id;
    this.#moved = moved;
  }

  get refused(): Problem | undefined {
    return this.#refused;
  }

  get told(): Told | undefined {
    return this.#told;
  }

  get busy(): boolean {
    return this.#busy > 0;
  }

  // seen takes the version that is shown. A board that was asked for before an edit may
  // come after it: what is older counts not.
  seen(asOf: AsOf): void {
    if (!this.#base || (!asOf.stale && asOf.state >= this.#state)) this.#restOn(asOf);
  }

  // anew forgets which state is the latest: a program that was started anew counts anew.
  anew(): void {
    this.#state = 0;
  }

  // edit writes a small change of the build.
  edit(changes: Change[], name?: string): Promise<boolean> {
    return this.#write((params) => {
      const body = { base: this.#base, changes, name };
      return answer(client.POST('/api/builds/{build}/edits', { params, body }));
    });
  }

  // accept writes cuts that were only computed, where they lie or were moved to.
  accept(...cuts: { part: string; station_mm: number; kind?: string }[]): Promise<boolean> {
    return this.#write((params) => {
      const body = { base: this.#base, cuts };
      return answer(client.POST('/api/builds/{build}/cuts', { params, body }));
    });
  }

  undo(): Promise<boolean> {
    return this.#write((params) => {
      const body = { base: this.#base };
      return answer(client.POST('/api/builds/{build}/undo', { params, body }));
    }, 'Taken back: ');
  }

  redo(): Promise<boolean> {
    return this.#write((params) => {
      const body = { base: this.#base };
      return answer(client.POST('/api/builds/{build}/redo', { params, body }));
    }, 'Done again: ');
  }

  // trial is what an edit would lead to; nothing is written.
  async trial(changes: Change[]): Promise<Consequences> {
    const body = { base: this.#base, changes };
    const params = { path: { build: this.id } };
    return (await answer(client.POST('/api/builds/{build}/trials', { params, body }))).consequences;
  }

  record(entry: LogEntry): Promise<boolean> {
    return this.order(async (params) => {
      await answer(client.POST('/api/builds/{build}/log', { params, body: entry }));
      this.#moved();
    });
  }

  dismiss(): void {
    this.#refused = undefined;
    this.#told = undefined;
  }

  tell(told: Told): void {
    this.#told = told;
  }

  // followed tells what the last edit led to.
  followed(led: Consequences | undefined): void {
    const told = this.#told;
    if (!told?.waits) return;
    const says = led?.says ? `${told.says}: ${led.says}` : told.says;
    this.#told = { ...told, says, waits: false };
  }

  refuse(problem: Problem): void {
    this.#refused = problem;
  }

  // order sends what changes no text; false where it was refused.
  async order(send: (params: Path) => Promise<void>): Promise<boolean> {
    this.#busy++;
    try {
      await send({ path: { build: this.id } });
      this.#refused = undefined;
      return true;
    } catch (error) {
      const problem = problemOf(error);
      this.#refused = problem;
      if (problem.conflict) {
        this.#base = problem.conflict.now;
        this.#moved();
      }
      return false;
    } finally {
      this.#busy--;
    }
  }

  #write(send: (params: Path) => Promise<Written>, before = ''): Promise<boolean> {
    const work = () => this.#writeNow(send, before);
    const done = this.#last.then(work, work);
    this.#last = done;
    return done;
  }

  #writeNow(send: (params: Path) => Promise<Written>, before: string): Promise<boolean> {
    return this.order(async (params) => {
      const done = await send(params);
      this.#restOn(done.as_of);
      this.#told = { says: before + done.name, undo: before ? '' : done.name, waits: true };
      this.#moved();
    });
  }

  #restOn(asOf: AsOf): void {
    this.#base = asOf.version;
    this.#state = asOf.state;
  }
}
