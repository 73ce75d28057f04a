import { spawn, type ChildProcess } from 'node:child_process';
import { cpSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

// The program as it was built, serving a copy of an example or nothing yet, in folders
// of its own.

const root = fileURLToPath(new URL('../..', import.meta.url));

export class Program {
  readonly folder: string;
  readonly dir: string | undefined;
  base = '';
  build = ''; // id of the build served
  #child: ChildProcess | undefined;

  constructor(example?: string) {
    this.folder = mkdtempSync(join(tmpdir(), 'scalewright-page-'));
    if (!example) return;
    this.dir = join(this.folder, example);
    cpSync(join(root, 'examples', example), this.dir, {
      recursive: true,
      filter: (from) => !/\/(out|history)(\/|$)/.test(from),
    });
    const kept = process.env.KEPT; // of the demo, by setup.ts
    if (kept && example === 'foyer-rocket')
      cpSync(kept, join(this.dir, 'out/.keep'), { recursive: true });
  }

  // start returns when the program says where its page is.
  async start(port = 0): Promise<void> {
    const args = [
      'serve',
      ...(this.dir ? [this.dir] : []),
      '--builds',
      join(this.folder, 'builds'),
    ];
    args.push('--listen', `127.0.0.1:${port}`);
    const child = spawn(join(root, 'scalewright'), args, {
      env: { ...process.env, HOME: this.folder, XDG_CONFIG_HOME: this.folder },
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    this.#child = child;
    const address = await new Promise<string>((resolve, reject) => {
      let said = '';
      const hear = (data: Buffer) => {
        said += data.toString();
        const found = /http:\/\/\S+/.exec(said);
        if (found) resolve(found[0]);
      };
      child.stdout.on('data', hear);
      child.stderr.on('data', hear);
      child.once('exit', () => reject(new Error(`the program ended: ${said}`)));
    });
    const url = new URL(address);
    this.base = url.origin;
    this.build = url.pathname.replace(/^\/b\//, '').replace(/^\/$/, '');
  }

  // stop ends the program and waits for it.
  async stop(): Promise<void> {
    const child = this.#child;
    this.#child = undefined;
    if (!child || child.exitCode !== null) return;
    const ended = new Promise((resolve) => child.once('exit', resolve));
    child.kill('SIGINT');
    await ended;
  }

  async end(): Promise<void> {
    await this.stop();
    rmSync(this.folder, { recursive: true, force: true });
  }

  // derived waits until the first result is there.
  async derived(build = this.build): Promise<void> {
    for (let n = 0; n < 600; n++) {
      const reply = await fetch(`${this.base}/api/builds/${build}`);
      const board = (await reply.json()) as { empty?: boolean; run?: { running: boolean } };
      if (board.empty === false && board.run?.running === false) return;
      await new Promise((resolve) => setTimeout(resolve, 100));
    }
    throw new Error('the build was not derived within a minute');
  }
}
