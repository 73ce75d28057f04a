import { problemOf } from '../api/problem';
import type { Change, Problem } from '../api/types';
import type { Build } from './build.svelte';

const pause = 350; // ms without a keystroke before the consequence is asked for

// The consequence of an edit that is being typed or dragged, before it is made.
export class Weighed {
  readonly #build: Build;
  #says = $state('');
  #problem = $state.raw<Problem>();
  #timer: ReturnType<typeof setTimeout> | undefined;
  #turn = 0;

  constructor(build: Build) {
    this.#build = build;
  }

  get says(): string {
    return this.#says;
  }

  get problem(): Problem | undefined {
    return this.#problem;
  }

  weigh(changes: Change[]): void {
    clearTimeout(this.#timer);
    const turn = ++this.#turn;
    this.#says = 'working out what follows';
    this.#problem = undefined;
    this.#timer = setTimeout(async () => {
      try {
        const led = await this.#build.trial(changes);
        if (turn === this.#turn) this.#says = led.says || 'no figure changes';
      } catch (error) {
        if (turn !== this.#turn) return;
        this.#problem = problemOf(error);
        this.#says = '';
      }
    }, pause);
  }

  clear(): void {
    clearTimeout(this.#timer);
    this.#turn++;
    this.#says = '';
    this.#problem = undefined;
  }
}
