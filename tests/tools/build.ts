import { execFile } from 'node:child_process';
import { mkdir, mkdtemp, rm, symlink } from 'node:fs/promises';
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
  // Inside the repository, so that node_modules and package.json are found by walking up.
  const dir = await mkdtemp(join(cache, 'built-'));
  const remove = () => rm(dir, { recursive: true, force: true });
  try {
    await symlink(join(root, 'demo'), join(dir, 'demo'));
    const tsc = ['typescript/bin/tsc', '-p', 'tsconfig.json', '--outDir', join(dir, 'dist')];
    const vite = [
      'vite/bin/vite.js',
      'build',
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

async function compile(tool: string, args: readonly string[]): Promise<void> {
  try {
    await run(process.execPath, [join(root, 'node_modules', tool), ...args], {
      cwd: root,
      maxBuffer: 64 << 20,
    });
  } catch (error) {
    const { stdout = '', stderr = '' } = error as { stdout?: string; stderr?: string };
    throw new Error(`${tool} failed:\n${stdout}${stderr}`);
  }
}
