import { getContext, setContext } from 'svelte';
import type { Build } from './build.svelte';
import type { Prefs } from './prefs.svelte';
import type { Route } from './route.svelte';

// What every component of the page may ask for.
function typed<T>(name: string): { get: () => T; set: (value: T) => T } {
  const key = Symbol(name);
  return { get: () => getContext<T>(key), set: (value) => setContext(key, value) };
}

export const prefsContext = typed<Prefs>('prefs');
export const routeContext = typed<Route>('route');
export const buildContext = typed<Build>('build');
