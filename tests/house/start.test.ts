import { type ChildProcess, spawn } from 'node:child_process';
import { cp, mkdir, mkdtemp, rm } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';

const root = resolve(import.meta.dirname, '../..');
const PARTS = ['src', 'api', 'widget', 'demo', 'package.json', 'tsconfig.json'];

/** `npm start` as the README has it, in a copy of the source tree. */
describe('npm start', () => {
  let dir: string;
  let server: ChildProcess;
  let url = '';
  let output = '';
  let env: NodeJS.ProcessEnv;

  beforeAll(async () => {
    // Inside the repository, so that node_modules is found by walking up.
    await mkdir(join(root, '.cache'), { recursive: true });
    dir = await mkdtemp(join(root, '.cache/start-'));
    for (const part of PARTS) await cp(join(root, part), join(dir, part), { recursive: true });
    env = { ...process.env, PORT: '0', DATA_DIR: join(dir, 'data'), DATABASE_URL: '', LOG_LEVEL: 'warn' };
    server = spawn('npm', ['start'], { cwd: dir, env, stdio: ['ignore', 'pipe', 'pipe'], detached: true });
    ({ url, output } = await listening(server));
  });

  afterAll(async () => {
    // After the last test the process group may be gone already.
    if (server?.pid !== undefined) endGroup(server.pid);
    await rm(dir, { recursive: true, force: true });
  });

  it('builds and serves the demo shop: its page, the tag and the catalog', async () => {
    const page = await (await fetch(url)).text();
    expect(page).toContain('<platen-order');
    const script = /src="([^"]*platen-order\.js)"/.exec(page)?.[1] ?? 'the page names no script';
    const tag = await fetch(new URL(script, url));
    expect(tag.headers.get('content-type')).toMatch(/javascript/);
    expect(await tag.text()).toContain('platen-order');
    const shop = /<platen-order[^>]*\bshop="([^"]+)"/.exec(page)?.[1] ?? 'the page names no shop';
    const catalog = await fetch(new URL(`/v1/shops/${shop}/catalog`, url));
    expect(catalog.status).toBe(200);
    expect((await fetch(new URL('/readyz', url))).status).toBe(200);
  });

  it('prints its address and a key for the owner', () => {
    expect(output).toMatch(/owner's key, shown this once: \S{20,}/);
  });

  it('ends cleanly on SIGTERM, and opens the same store when started again', async () => {
    // The signal ends npm too; what counts is the program that npm started.
    process.kill(-(server.pid ?? Number.NaN), 'SIGTERM');
    await expect.poll(() => fetch(url).then(Boolean, () => false)).toBe(false);
    const again = spawn(process.execPath, ['dist/api/server.js'], {
      cwd: dir,
      env,
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    const heard = await listening(again);
    expect(heard.output).not.toContain("owner's key");
    expect((await fetch(heard.url)).status).toBe(200);
    const ended = new Promise<number | null>((done) => again.once('exit', done));
    again.kill('SIGTERM');
    expect(await ended).toBe(0);
  });
});

/** Waits until a server prints its address. */
function listening(child: ChildProcess): Promise<{ readonly url: string; readonly output: string }> {
  return new Promise((done, fail) => {
    let output = '';
    const hear = (chunk: Buffer) => {
      output += chunk.toString();
      const url = /listens on (http:\/\/\S+)/.exec(output)?.[1];
      // The rest of its first output comes at the same time.
      if (url !== undefined) setTimeout(() => done({ url, output }), 200);
    };
    child.stdout?.on('data', hear);
    child.stderr?.on('data', hear);
    child.once('exit', (code) => fail(new Error(`ended with ${code} before it listened:\n${output}`)));
  });
}

function endGroup(pid: number): void {
  try {
    process.kill(-pid, 'SIGKILL');
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'ESRCH') throw error;
  }
}
