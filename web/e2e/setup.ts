import { join } from 'node:path';
import { Program } from './program';

// The demo is derived once, before the journeys; each has its own copy of what was kept,
// as after the program was stopped and started. What is begun from a photograph on the
// page is still worked out from nothing.
export default async function setup(): Promise<() => Promise<void>> {
  const program = new Program('foyer-rocket');
  try {
    await program.start();
    await program.derived();
    await program.stop();
  } catch (error) {
    await program.end();
    throw error;
  }
  process.env.KEPT = join(program.dir ?? '', 'out/.keep');
  return () => program.end();
}
