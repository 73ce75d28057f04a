import type { Problem } from '../api/types';
import { problemOf } from '../api/problem';

// An answer of the server's that is asked for again and again. The last question wins;
// while it is under way the answer before it stays.
export class Asked<T> {
  #value = $state.raw<T>();
  #problem = $state.raw<Problem>();
  #turn = 0;

  get value(): T | undefined {
    return this.#value;
  }

  get problem(): Problem | undefined {
    return this.#problem;
  }

  async ask(load: () => Promise<T>): Promise<void> {
    const turn = ++this.#turn;
    try {
      const value = await load();
      if (turn !== this.#turn) return;
      this.#value = value;
      this.#problem = undefined;
    } catch (error) {
      if (turn === this.#turn) this.#problem = problemOf(error);
    }
  }

  // take puts an answer that came another way, with an edit's reply for one.
  take(value: T): void {
    this.#turn++;
    this.#value = value;
    this.#problem = undefined;
  }
}
