import { answer, client, unitsAsked } from '../api/client';
import { problemOf } from '../api/problem';
import type { AsOf, Board, Change, Consequences, Finding, LogEntry, Problem } from '../api/types';
import { Asked } from './asked.svelte';
import { listen, type Heard } from './events';
import type { Prefs } from './prefs.svelte';

export interface Told {
  says: string;
  undo?: string; // name of the step that can be taken back
}

// How far the work under way has come.
export interface Progress {
  stage: string;
  done: number;
  total: number;
}

// A build as the page knows it: what the window shows round every sheet, how fresh that
// is, and every change that can be made. Sheets ask for their own answers and read
// [Build.turn], so that they ask anew when the build has moved on.
export class Build {
  readonly id: string;
  readonly board = new Asked<Board>();
  readonly findings = new Asked<Finding[]>();
  readonly #prefs: Prefs;
  #turn = $state(0);
  #parts = $state(0);
  #away = $state.raw<Date>();
  #progress = $state.raw<Progress>();
  #refused = $state.raw<Problem>();
  #told = $state.raw<Told>();
  #making = $state(false);
  #busy = $state(0);
  #base = ''; // the version that the next edit rests on
  #state = 0; // and the state that it is of

  constructor(id: string, prefs: Prefs) {
    this.id = id;
    this.#prefs = prefs;
  }

  // turn rises when any answer may have changed, parts when a stage is through.
  get turn(): number {
    return this.#turn;
  }

  get parts(): number {
    return this.#turn + this.#parts;
  }

  get away(): Date | undefined {
    return this.#away;
  }

  get progress(): Progress | undefined {
    return this.#progress;
  }

  get refused(): Problem | undefined {
    return this.#refused;
  }

  get told(): Told | undefined {
    return this.#told;
  }

  get making(): boolean {
    return this.#making;
  }

  get busy(): boolean {
    return this.#busy > 0;
  }

  get units(): 'mm' | 'ft' {
    return unitsAsked(this.#prefs.units);
  }

  get stale(): boolean {
    return this.board.value?.as_of.stale ?? false;
  }

  // follow asks for the board whenever it may have changed, until it is left.
  follow(): () => void {
    const leave = listen(this.id, (heard) => this.#hear(heard));
    return () => leave();
  }

  async refresh(): Promise<void> {
    const path = { build: this.id };
    const query = { units: this.units };
    await this.board.ask(() =>
      answer(client.GET('/api/builds/{build}', { params: { path, query } })),
    );
    const board = this.board.value;
    if (!board) return;
    // A board that was asked for before an edit may come after it: what is older counts not.
    if (!board.as_of.stale && board.as_of.state >= this.#state) this.#restOn(board.as_of);
    if (!this.#base) this.#restOn(board.as_of);
    if (!board.run.running) this.#progress = undefined;
    if (board.empty) return;
    await this.findings.ask(async () => {
      const found = await answer(
        client.GET('/api/builds/{build}/findings', { params: { path, query } }),
      );
      return found.findings ?? [];
    });
  }

  // edit writes a small change of the build; what came of it is told.
  async edit(changes: Change[], name?: string): Promise<boolean> {
    return this.#write(async (params) => {
      const body = { base: this.#base, changes, name, wait_ms: 4000 };
      return answer(client.POST('/api/builds/{build}/edits', { params, body }));
    });
  }

  // accept writes cuts that were only computed, where they lie or were moved to.
  async accept(...cuts: { part: string; station_mm: number; kind?: string }[]): Promise<boolean> {
    return this.#write((params) => {
      const body = { base: this.#base, cuts, wait_ms: 4000 };
      return answer(client.POST('/api/builds/{build}/cuts', { params, body }));
    });
  }

  // stop ends the work under way; what is shown stands. goOn takes it up again.
  async stop(): Promise<void> {
    await this.#guarded(async () => {
      const params = { path: { build: this.id } };
      await answer(client.POST('/api/builds/{build}/stop', { params }));
    });
  }

  async goOn(): Promise<void> {
    await this.#guarded(async () => {
      const params = { path: { build: this.id } };
      await answer(client.POST('/api/builds/{build}/run', { params }));
    });
  }

  async undo(): Promise<boolean> {
    return this.#write((params) => {
      const body = { base: this.#base, wait_ms: 4000 };
      return answer(client.POST('/api/builds/{build}/undo', { params, body }));
    }, 'Taken back: ');
  }

  async redo(): Promise<boolean> {
    return this.#write((params) => {
      const body = { base: this.#base, wait_ms: 4000 };
      return answer(client.POST('/api/builds/{build}/redo', { params, body }));
    }, 'Done again: ');
  }

  // trial is what an edit would lead to; nothing is written.
  async trial(changes: Change[]): Promise<Consequences> {
    const params = { path: { build: this.id } };
    const body = { base: this.#base, changes };
    return (await answer(client.POST('/api/builds/{build}/trials', { params, body }))).consequences;
  }

  async record(entry: LogEntry): Promise<boolean> {
    return this.#guarded(async () => {
      const params = { path: { build: this.id } };
      await answer(client.POST('/api/builds/{build}/log', { params, body: entry }));
      this.#turn++;
    });
  }

  async make(): Promise<void> {
    this.#making = true;
    const done = await this.#guarded(async () => {
      const params = { path: { build: this.id } };
      const body = { units: this.units };
      await answer(client.POST('/api/builds/{build}/make', { params, body }));
    });
    if (!done) this.#making = false;
  }

  dismiss(): void {
    this.#refused = undefined;
    this.#told = undefined;
  }

  tell(told: Told): void {
    this.#told = told;
  }

  async #write(
    send: (params: { path: { build: string } }) => Promise<{
      as_of: AsOf;
      name: string;
      consequences?: Consequences;
    }>,
    before = '',
  ): Promise<boolean> {
    return this.#guarded(async () => {
      const done = await send({ path: { build: this.id } });
      this.#restOn(done.as_of);
      const says = done.consequences?.says;
      this.#told = {
        says: before + done.name + (says ? `: ${says}` : ''),
        undo: before ? '' : done.name,
      };
      this.#turn++;
    });
  }

  async #guarded(work: () => Promise<void>): Promise<boolean> {
    this.#busy++;
    try {
      await work();
      this.#refused = undefined;
      return true;
    } catch (error) {
      const problem = problemOf(error);
      this.#refused = problem;
      if (problem.conflict) {
        this.#base = problem.conflict.now;
        this.#turn++;
      }
      return false;
    } finally {
      this.#busy--;
    }
  }

  #restOn(asOf: AsOf): void {
    this.#base = asOf.version;
    this.#state = asOf.state;
  }

  #hear(heard: Heard): void {
    switch (heard.kind) {
      case 'away':
        this.#away ??= new Date();
        return;
      case 'progress':
        this.#progress = heard.event;
        return;
      case 'stage':
        this.#parts++;
        return;
      case 'made':
        this.#making = false;
        if (heard.event.trouble) this.#refused = { status: 0, ...heard.event.trouble };
        break;
      case 'derived':
        this.#progress = undefined;
        break;
      case 'state':
        this.#away = undefined;
        if (heard.event.why === 'hello') this.#state = 0; // a program that was started anew counts anew
        break;
    }
    this.#turn++;
  }
}
