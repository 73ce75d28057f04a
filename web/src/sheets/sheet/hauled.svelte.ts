import type { Handle } from '../../api/types';
import type { Build } from '../../state/build.svelte';
import { Weighed } from '../../state/weighed.svelte';
import { declared, put } from './owned';

// A handle in the hand: where it is held now, what that would lead to, and the edit once
// it is let go.
export class Hauled {
  readonly #build: Build;
  readonly #handle: () => Handle;
  readonly weighed: Weighed;
  #to = $state<number>();

  constructor(build: Build, handle: () => Handle) {
    this.#build = build;
    this.#handle = handle;
    this.weighed = new Weighed(build);
  }

  // held is whether it was moved and not let go yet.
  get held(): boolean {
    return this.#to !== undefined;
  }

  get at(): number {
    return this.#to ?? this.#handle().value_mm;
  }

  go(to: number): void {
    if (to === this.at) return;
    this.#to = to;
    const h = this.#handle();
    if (to === h.value_mm) this.weighed.clear();
    else if (!h.provisional) this.weighed.weigh(this.#changes(to));
  }

  async commit(): Promise<void> {
    const to = this.#to;
    const h = this.#handle();
    if (to !== undefined && to !== h.value_mm) {
      // A cut that is only computed is written where it is let go.
      if (h.provisional && h.part) {
        await this.#build.accept({ part: h.part, station_mm: to, kind: h.joint });
      } else await this.#build.edit(this.#changes(to), h.name);
    }
    this.restore();
  }

  restore(): void {
    this.#to = undefined;
    this.weighed.clear();
  }

  #changes(to: number) {
    const h = this.#handle();
    return put(h, declared(h, to, this.#build.board.value?.ratio ?? 0));
  }
}
