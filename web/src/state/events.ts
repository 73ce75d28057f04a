import type { components } from '../api/api.gen';

type S = components['schemas'];

// What the server says of its own accord.
export type Heard =
  | { kind: 'state'; event: S['StateEvent'] }
  | { kind: 'progress'; event: S['ProgressEvent'] }
  | { kind: 'stage'; event: S['StageEvent'] }
  | { kind: 'derived'; event: S['DerivedEvent'] }
  | { kind: 'made'; event: S['MadeEvent'] }
  | { kind: 'away' };

const kinds = ['state', 'progress', 'stage', 'derived', 'made'] as const;

// listen hears a build's events until the returned function is called. The browser
// connects again by itself; where it gave up, this does.
export function listen(build: string, hear: (heard: Heard) => void): () => void {
  let source: EventSource | undefined;
  let again: ReturnType<typeof setTimeout> | undefined;
  const connect = () => {
    source = new EventSource(`/api/builds/${encodeURIComponent(build)}/events`);
    for (const kind of kinds) {
      source.addEventListener(kind, (message: MessageEvent<string>) => {
        hear({ kind, event: JSON.parse(message.data) } as Heard);
      });
    }
    source.onerror = () => {
      hear({ kind: 'away' });
      if (source?.readyState === EventSource.CLOSED) again = setTimeout(connect, 2000);
    };
  };
  connect();
  return () => {
    clearTimeout(again);
    source?.close();
  };
}
