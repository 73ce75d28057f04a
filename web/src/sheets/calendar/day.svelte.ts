import { answer, client } from '../../api/client';
import type { Act, LogEntry, Today } from '../../api/types';
import { now, today } from '../../parts/words';
import { Asked } from '../../state/asked.svelte';
import type { Build } from '../../state/build.svelte';

// The bench list of a day, and what checking its boxes logs.
export class Day {
  readonly build: Build;
  readonly #list = new Asked<Today>();
  #checked = $state.raw<ReadonlySet<string>>(new Set());

  constructor(build: Build) {
    this.build = build;
  }

  get list(): Today | undefined {
    return this.#list.value;
  }

  checked(act: Act): boolean {
    return this.#checked.has(act.id);
  }

  async ask(): Promise<void> {
    const query = { date: today() };
    const params = { path: { build: this.build.id }, query };
    await this.#list.ask(() => answer(client.GET('/api/builds/{build}/today', { params })));
  }

  // check logs an act as done; minutes only where they differ from the plan.
  async check(act: Act, differs?: { minutes?: number; grams?: number }): Promise<void> {
    if (!act.log_kind) return;
    const entry: LogEntry = { kind: act.log_kind, time: now() };
    if (act.log_kind === 'done') entry.task = act.log_task;
    else entry.piece = act.piece;
    if (act.log_kind !== 'started') entry.minutes = differs?.minutes ?? act.planned_min;
    if (act.log_kind === 'printed') entry.grams = differs?.grams ?? act.planned_g;
    this.#checked = new Set([...this.#checked, act.id]);
    if (!(await this.build.record(entry))) {
      this.#checked = new Set([...this.#checked].filter((id) => id !== act.id));
    } else this.build.tell({ says: `Logged: ${act.says}. The plan is worked out again.` });
  }
}
