// Clears dist but for its README, which is committed.
import { readdirSync, rmSync } from 'node:fs';

const dist = new URL('../dist/', import.meta.url);
for (const name of readdirSync(dist)) {
  if (name !== 'README') rmSync(new URL(name, dist), { recursive: true });
}
