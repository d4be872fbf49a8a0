import { execFile } from 'node:child_process';
import { mkdtemp, rm, symlink, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';

const root = resolve(import.meta.dirname, '../../..');
let dir: string;

/** Runs vitest in a folder of its own; the line and the exit code are those that a caller would see. */
function runVitest(file: string): Promise<{ code: number; stdout: string }> {
  return new Promise((done) => {
    const args = [
      join(root, 'node_modules/vitest/vitest.mjs'),
      'run',
      '--root',
      dir,
      '--reporter',
      join(root, 'tests/tools/setup/closing-line.ts'),
      file,
    ];
    const env = { ...process.env, NODE_OPTIONS: '', VITEST: undefined };
    const child = execFile(process.execPath, args, { cwd: dir, env }, (_error, stdout) => {
      done({ code: child.exitCode ?? -1, stdout });
    });
  });
}

beforeAll(async () => {
  dir = await mkdtemp(join(tmpdir(), 'platen-closing-'));
  await symlink(join(root, 'node_modules'), join(dir, 'node_modules'));
  const head = "import { expect, it, describe, beforeAll } from 'vitest';\n";
  const files = {
    'good.test.ts':
      "it('a', () => expect(1).toBe(1)); it('b', () => expect(2).toBe(2)); it.skip('c', () => {});",
    'bad.test.ts': "it('a', () => expect(1).toBe(1)); it('b', () => expect(1).toBe(2));",
    'skipped.test.ts': "it.skip('a', () => {});",
    'unloadable.test.ts': "throw new Error('at load');",
    'hook.test.ts':
      "describe('s', () => { beforeAll(() => { throw new Error('x'); }); it('a', () => {}); }); it('b', () => {});",
    'loose.test.ts':
      "it('a', async () => { Promise.reject(new Error('loose')); await new Promise((r) => setTimeout(r, 20)); });",
  };
  for (const [name, body] of Object.entries(files)) await writeFile(join(dir, name), `${head}${body}\n`);
});

afterAll(() => rm(dir, { recursive: true, force: true }));

describe('the closing line of a run', () => {
  it.each([
    ['good.test.ts', '2 passed, 0 failed, 1 skipped', 0],
    ['bad.test.ts', '1 passed, 1 failed', 1],
    ['skipped.test.ts', '0 passed, 0 failed, 1 skipped', 1],
    ['unloadable.test.ts', '0 passed, 1 failed', 1],
    ['hook.test.ts', '1 passed, 1 failed, 1 skipped', 1],
    ['loose.test.ts', '1 passed, 1 failed', 1],
    ['no-such.test.ts', '0 passed, 0 failed', 1],
  ])('%s ends with "%s" and exit code %i', async (file, line, code) => {
    const run = await runVitest(file);
    expect(run.stdout.split('\n')).toContain(line);
    expect(run.code).toBe(code);
  });
});
