import { answer, client, unitsAsked } from '../api/client';
import type { Board, Finding } from '../api/types';
import { Asked } from './asked.svelte';
import { listen, type Heard } from './events';
import type { Prefs } from './prefs.svelte';
import { Writer } from './writer.svelte';

// How far the work under way has come.
export interface Progress {
  stage: string;
  done: number;
  total: number;
}

// A build as the page knows it: what the window shows round every sheet, how fresh that
// is, and every change that can be made. Sheets ask for their own answers and read
// [Build.turn], so that they ask anew when the build has moved on.
export class Build extends Writer {
  readonly board = new Asked<Board>();
  readonly findings = new Asked<Finding[]>();
  readonly #prefs: Prefs;
  #turn = $state(0);
  #parts = $state(0);
  #away = $state.raw<Date>();
  #progress = $state.raw<Progress>();
  #making = $state(false);

  constructor(id: string, prefs: Prefs) {
    super(id, () => this.#turn++);
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

  get making(): boolean {
    return this.#making;
  }

  get units(): 'mm' | 'ft' {
    return unitsAsked(this.#prefs.units);
  }

  // follow hears what changes, until it is left.
  follow(): () => void {
    return listen(this.id, (heard) => this.#hear(heard));
  }

  async refresh(): Promise<void> {
    const params = { path: { build: this.id }, query: { units: this.units } };
    await this.board.ask(() => answer(client.GET('/api/builds/{build}', { params })));
    const board = this.board.value;
    if (!board) return;
    this.seen(board.as_of);
    if (!board.run.running) this.#progress = undefined;
    if (board.empty) return;
    await this.findings.ask(async () => {
      const found = await answer(client.GET('/api/builds/{build}/findings', { params }));
      return found.findings;
    });
  }

  // make writes the book and all files; the event made says when it is done.
  async make(): Promise<void> {
    this.#making = true;
    const begun = await this.order(async (params) => {
      const body = { units: this.units };
      await answer(client.POST('/api/builds/{build}/make', { params, body }));
    });
    if (!begun) this.#making = false;
  }

  // stop ends the work under way; what is shown stands. goOn takes it up again.
  async stop(): Promise<void> {
    await this.order(async (params) => {
      await answer(client.POST('/api/builds/{build}/stop', { params }));
    });
  }

  async goOn(): Promise<void> {
    await this.order(async (params) => {
      await answer(client.POST('/api/builds/{build}/run', { params }));
    });
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
        if (heard.event.trouble) this.refuse({ status: 0, ...heard.event.trouble });
        break;
      case 'derived':
        this.#progress = undefined;
        this.followed(heard.event.consequences);
        break;
      case 'state':
        this.#away = undefined;
        if (heard.event.why === 'hello') this.anew();
        break;
    }
    this.#turn++;
  }
}
