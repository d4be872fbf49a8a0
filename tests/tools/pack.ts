import { execFile } from 'node:child_process';
import { mkdir, mkdtemp, readdir, rename, rm, writeFile } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { promisify } from 'node:util';

const run = promisify(execFile);
const root = resolve(import.meta.dirname, '../..');

/** A page's project with the packed widget installed, and nothing else: `dir/node_modules/peel-and-platen`. */
export type Consumer = { readonly dir: string; remove(): Promise<void> };

/**
 * Builds the package, packs it and installs the tarball as a page's project would, without the network: Lit, Fabric and
 * the frameworks are found by walking up to the repository's own node_modules.
 */
export async function packWidget(): Promise<Consumer> {
  const cache = join(root, '.cache');
  await mkdir(cache, { recursive: true });
  const dir = await mkdtemp(join(cache, 'consumer-'));
  const remove = () => rm(dir, { recursive: true, force: true });
  try {
    const tsx = join(root, 'node_modules/tsx/dist/cli.mjs');
    const built = join(dir, 'package');
    await run(process.execPath, [tsx, join(root, 'widget/package/build.ts'), built], {
      cwd: root,
      // a test run's own would make it a build for development
      env: { ...process.env, NODE_ENV: 'production' },
    });
    await run('npm', ['pack', built, '--pack-destination', dir, '--silent'], { cwd: root });
    const tarball = (await readdir(dir)).find((name) => name.endsWith('.tgz')) ?? '';
    await rm(built, { recursive: true });
    await mkdir(join(dir, 'node_modules'));
    await run('tar', ['-xzf', join(dir, tarball), '-C', join(dir, 'node_modules')]);
    await rename(join(dir, 'node_modules/package'), join(dir, 'node_modules/peel-and-platen'));
    // a package of its own, or the name would mean the repository around it
    await writeFile(join(dir, 'package.json'), '{"name":"shop","type":"module","private":true}');
    return { dir, remove };
  } catch (error) {
    await remove();
    throw error;
  }
}
