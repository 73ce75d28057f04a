import createClient from 'openapi-fetch';
import type { Units } from '../state/prefs.svelte';
import type { paths } from './api.gen';
import { Refused } from './problem';
import type { Problem } from './types';

// The one door to the server. What it refuses is thrown as [Refused].

export const client = createClient<paths>({ baseUrl: '' });

interface Reply<T> {
  data?: T;
  error?: unknown;
  response: Response;
}

export async function answer<T>(reply: Promise<Reply<T>>): Promise<T> {
  const { data, error, response } = await reply;
  if (data !== undefined && response.ok) return data;
  if (isProblem(error)) throw new Refused(error);
  const what = typeof error === 'string' && error ? error.replace(/^scalewright: /, '').trim() : '';
  throw new Refused({
    status: response.status,
    what: what || `The program answered ${response.status}.`,
  });
}

function isProblem(error: unknown): error is Problem {
  return typeof error === 'object' && error !== null && 'what' in error;
}

// unitsAsked is how the API names the units.
export function unitsAsked(units: Units): 'mm' | 'ft' {
  return units === 'mm' ? 'mm' : 'ft';
}
