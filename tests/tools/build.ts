import { execFile } from 'node:child_process';
import { mkdir, mkdtemp, readdir, rm, stat, symlink } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { promisify } from 'node:util';

const run = promisify(execFile);
const root = resolve(import.meta.dirname, '../..');

/** A finished build: `dist/` and `demo/` under one folder, laid out as in the repository. */
export type Build = { readonly dir: string; remove(): Promise<void> };

/**
 * Builds server and widget as `npm run build` does, but into a folder of this run's own: two runs at once, or a run
 * beside a served page, must not empty each other's dist/.
 *
 * @throws Error with the compiler's words
 */
export async function build(): Promise<Build> {
  const cache = join(root, '.cache');
  await mkdir(cache, { recursive: true });
  await sweep(cache);
  // Inside the repository, so that node_modules and package.json are found by walking up.
  const dir = await mkdtemp(join(cache, 'built-'));
  const remove = () => rm(dir, { recursive: true, force: true });
  try {
    await symlink(join(root, 'demo'), join(dir, 'demo'));
    const tsc = ['typescript/bin/tsc', '-p', 'api/tsconfig.build.json', '--outDir', join(dir, 'dist')];
    const vite = [
      'vite/bin/vite.js',
      'build',
      '--config',
      'widget/vite.config.ts',
      '--outDir',
      join(dir, 'dist/widget'),
      '--emptyOutDir',
      '--logLevel',
      'warn',
    ];
    await Promise.all([tsc, vite].map(([tool = '', ...args]) => compile(tool, args)));
    return { dir, remove };
  } catch (error) {
    await remove();
    throw error;
  }
}

const DAY_MS = 86_400_000;

/** A run that was killed leaves its build behind; a day later nobody uses it. */
async function sweep(cache: string): Promise<void> {
  for (const name of await readdir(cache)) {
    if (!/^(built|consumer|start|unpacking)-/.test(name)) continue;
    const path = join(cache, name);
    const { mtimeMs } = await stat(path).catch(() => ({ mtimeMs: Number.POSITIVE_INFINITY }));
    if (mtimeMs < Date.now() - DAY_MS) await rm(path, { recursive: true, force: true });
  }
}

async function compile(tool: string, args: readonly string[]): Promise<void> {
  try {
    await run(process.execPath, [join(root, 'node_modules', tool), ...args], {
      cwd: root,
      // a test run's own would make it a build for development
      env: { ...process.env, NODE_ENV: 'production' },
      maxBuffer: 64 << 20,
    });
  } catch (error) {
    const { stdout = '', stderr = '' } = error as { stdout?: string; stderr?: string };
    throw new Error(`${tool} failed:\n${stdout}${stderr}`);
  }
}
