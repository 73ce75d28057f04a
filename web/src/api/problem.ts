import type { Problem } from './types';

// What the server refused, as it said it.
export class Refused extends Error {
  readonly problem: Problem;

  constructor(problem: Problem) {
    super(problem.what);
    this.problem = problem;
  }
}

// problemOf says of any failure what is wrong and what to do.
export function problemOf(error: unknown): Problem {
  if (error instanceof Refused) return error.problem;
  return {
    status: 0,
    what: 'The program does not answer.',
    do: 'See that scalewright serve still runs; the page tries again by itself.',
  };
}
