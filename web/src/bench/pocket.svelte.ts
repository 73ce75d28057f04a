import { answer, client } from '../api/client';
import { problemOf } from '../api/problem';
import type { LogEntry, Problem } from '../api/types';
import type { Build } from '../state/build.svelte';

const again = 5000; // ms between attempts to send what is kept

// What was entered at the bench, kept in the phone until the program has it: sent in
// order, and the same entry twice is logged once.
export class Pocket {
  readonly build: Build;
  readonly #key: string;
  #kept = $state.raw<readonly LogEntry[]>([]);
  #problem = $state.raw<Problem>();
  #sending = false;

  constructor(build: Build) {
    this.build = build;
    this.#key = `scalewright.pocket.${build.id}`;
    this.#kept = read(this.#key);
  }

  get kept(): readonly LogEntry[] {
    return this.#kept;
  }

  get problem(): Problem | undefined {
    return this.#problem;
  }

  follow(): () => void {
    const timer = setInterval(() => void this.send(), again);
    const online = () => void this.send();
    addEventListener('online', online);
    void this.send();
    return () => {
      clearInterval(timer);
      removeEventListener('online', online);
    };
  }

  // put keeps an entry and sends it; false where the program refused it.
  async put(entry: LogEntry): Promise<boolean> {
    this.#keep([...this.#kept, entry]);
    await this.send();
    return this.#problem === undefined;
  }

  dismiss(): void {
    this.#problem = undefined;
  }

  async send(): Promise<void> {
    if (this.#sending) return;
    this.#sending = true;
    try {
      while (this.#kept[0]) {
        const entry = this.#kept[0];
        if (!(await this.#sent(entry))) return;
        this.#keep(this.#kept.slice(1));
      }
    } finally {
      this.#sending = false;
    }
  }

  // An entry that was refused is told and let go; one that was not heard stays.
  async #sent(entry: LogEntry): Promise<boolean> {
    try {
      const params = { path: { build: this.build.id } };
      await answer(client.POST('/api/builds/{build}/log', { params, body: entry }));
      this.#problem = undefined;
      return true;
    } catch (error) {
      const problem = problemOf(error);
      if (problem.status === 0 || problem.status === 503) return false;
      this.#problem = problem;
      return true;
    }
  }

  #keep(entries: readonly LogEntry[]): void {
    this.#kept = entries;
    try {
      localStorage.setItem(this.#key, JSON.stringify(entries));
    } catch {
      return; // a private window: kept as long as the page is open
    }
  }
}

function read(key: string): LogEntry[] {
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(key) ?? '[]');
    return Array.isArray(kept) ? (kept as LogEntry[]) : [];
  } catch {
    return [];
  }
}
