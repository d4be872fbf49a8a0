import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { ServerSettings } from '../../../api/settings.ts';

/** Options of `startServer`. Defaults: a free port, an empty data folder, no rate limits, warnings only. */
export type ServerOptions = Partial<ServerSettings>;

/** The built server in a process of its own, as a shop runs it. */
export type ServerProcess = {
  /** origin, such as http://127.0.0.1:41234 */
  readonly url: string;
  readonly dataDir: string;
  /** the demo shop's owner's key, where this start opened the shop */
  readonly ownerKey: string | undefined;
  /** what the server has written so far, both streams */
  output(): string;
  /** asks it to end and waits; removes the data folder if it was made here */
  stop(): Promise<void>;
  /** kills it at once, like a power cut, and keeps the data folder */
  kill(): Promise<void>;
};

/**
 * Starts `dist/api/server.js` of a build on a free port with an empty data folder.
 *
 * @param builtDir the folder that holds `dist/` and `demo/`
 * @throws Error with the server's output when it ends before it listens, or takes over two minutes
 */
export async function startServerProcess(
  builtDir: string,
  options: ServerOptions = {},
): Promise<ServerProcess> {
  const own = options.dataDir === undefined;
  const dataDir = options.dataDir ?? (await mkdtemp(join(tmpdir(), 'platen-data-')));
  const module = pathToFileURL(join(builtDir, 'dist/api/server.js')).href;
  const settings = JSON.stringify({ port: 0, rateLimits: false, logLevel: 'warn', ...options, dataDir });
  const code = `
    const { startServer } = await import(${JSON.stringify(module)});
    const server = await startServer(JSON.parse(process.env.PLATEN_TEST_SETTINGS));
    process.send({ url: server.url, ownerKey: server.ownerKey });
    process.once('disconnect', () => server.close().finally(() => process.exit()));
  `;
  const env = { ...process.env, PLATEN_TEST_SETTINGS: settings, NODE_OPTIONS: '' };
  const child = spawn(process.execPath, ['--input-type=module', '--eval', code], {
    cwd: builtDir,
    env,
    stdio: ['ignore', 'pipe', 'pipe', 'ipc'],
  });
  let output = '';
  for (const stream of [child.stdout, child.stderr]) {
    stream?.on('data', (chunk: Buffer) => {
      output += chunk.toString();
    });
  }
  const { url, ownerKey } = await listening(child, () => output);
  return {
    url,
    dataDir,
    ownerKey,
    output: () => output,
    async stop() {
      await ended(child, () => child.disconnect());
      if (own) await rm(dataDir, { recursive: true, force: true });
    },
    kill: () => ended(child, () => child.kill('SIGKILL')),
  };
}

type Started = { readonly url: string; readonly ownerKey?: string };

function listening(child: ChildProcess, output: () => string): Promise<Started> {
  return new Promise((done, fail) => {
    const giveUp = (why: string) => {
      clearTimeout(timer);
      child.kill('SIGKILL');
      fail(new Error(`the server ${why}:\n${output()}`));
    };
    const timer = setTimeout(() => giveUp('did not listen within two minutes'), 120_000);
    child.once('exit', (code, signal) => giveUp(`ended (${signal ?? code}) before it listened`));
    child.once('message', (message) => {
      clearTimeout(timer);
      child.removeAllListeners('exit');
      done(message as Started);
    });
  });
}

function ended(child: ChildProcess, ask: () => unknown): Promise<void> {
  return new Promise((done) => {
    if (child.exitCode !== null || child.signalCode !== null) return done();
    child.once('exit', () => done());
    ask();
  });
}
