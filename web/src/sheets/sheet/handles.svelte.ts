import { answer, client } from '../../api/client';
import type { Handle } from '../../api/types';
import { Asked } from '../../state/asked.svelte';
import type { Build } from '../../state/build.svelte';

// handlesOf asks for what can be edited on the lanes, whenever the build has moved on.
// Called while a sheet is made.
export function handlesOf(build: Build): Asked<Handle[]> {
  const handles = new Asked<Handle[]>();
  $effect(() => {
    void build.turn;
    if (build.board.value?.empty ?? true) return;
    const params = { path: { build: build.id }, query: { units: build.units } };
    handles.ask(async () => {
      const known = await answer(client.GET('/api/builds/{build}/handles', { params }));
      return known.handles;
    });
  });
  return handles;
}
