import { execFile } from 'node:child_process';
import { constants } from 'node:fs';
import { access, mkdir, mkdtemp, readFile, rename, rm, stat } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { delimiter, dirname, join, resolve } from 'node:path';
import { promisify } from 'node:util';
import { chromium } from 'playwright';

const run = promisify(execFile);
const root = resolve(import.meta.dirname, '../../..');

/** A Chromium that runs here: its program, the environment it needs, and where it came from. */
export type FoundBrowser = {
  readonly executablePath: string;
  readonly env: Readonly<Record<string, string>>;
  readonly version: string;
  readonly source: string;
};

/** One source of browsers. Its candidates are tried in turn; no candidates means that it cannot be used here. */
type Source = { readonly source: string; candidates(): Promise<readonly Candidate[]> };
type Candidate = Pick<FoundBrowser, 'executablePath' | 'env'>;

const SOURCES = {
  machine: { source: "the machine's own", candidates: onThisMachine },
  apt: { source: "Debian's package, by apt", candidates: byApt },
  npm: { source: '@sparticuz/chromium from npm', candidates: fromNpm },
} as const satisfies Record<string, Source>;

/** Names of the sources, in the order they are tried. */
export type BrowserSource = keyof typeof SOURCES;

/**
 * Flags that every test browser starts with: no sandbox (root cannot have one), no GPU, no traffic of its own.
 * Playwright adds `--headless` itself.
 */
export const BROWSER_FLAGS: readonly string[] = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

/**
 * Finds a Chromium: CHROME_PATH, else the machine's, else Debian's by apt as root, else one from npm.
 * A browser counts as found only when it prints its version.
 *
 * @param sources which sources to try, in this order; default all
 * @throws Error listing each source that was tried and why it failed; at once when CHROME_PATH does not run, because
 * whoever set it wants that browser and no other
 */
export async function findBrowser(
  sources: readonly BrowserSource[] = ['machine', 'apt', 'npm'],
): Promise<FoundBrowser> {
  const given = process.env['CHROME_PATH'];
  if (given) return started({ executablePath: given, env: {} }, 'CHROME_PATH');
  const tried: string[] = [];
  for (const name of sources) {
    const { source, candidates } = SOURCES[name];
    try {
      const found = await candidates();
      if (found.length === 0) tried.push(`${source}: none`);
      for (const candidate of found) {
        try {
          return await started(candidate, source);
        } catch (error) {
          tried.push(`${source}: ${firstLine(error)}`);
        }
      }
    } catch (error) {
      tried.push(`${source}: ${firstLine(error)}`);
    }
  }
  throw new Error(`found no Chromium for the browser tests: ${tried.join('; ')}`);
}

function firstLine(error: unknown): string {
  return (error instanceof Error ? error.message : String(error)).split('\n')[0] ?? '';
}

async function started({ executablePath, env }: Candidate, source: string): Promise<FoundBrowser> {
  const options = { timeout: 120_000, env: { ...process.env, ...env } };
  const { stdout } = await run(executablePath, ['--version'], options);
  const version = stdout.trim();
  if (!/Chrom/.test(version)) {
    throw new Error(`${executablePath} --version says ${JSON.stringify(version)}, which is not Chromium`);
  }
  return { executablePath, env, version, source };
}

async function onThisMachine(): Promise<readonly Candidate[]> {
  const names = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable', 'chrome'];
  const folders = (process.env['PATH'] ?? '').split(delimiter).filter(Boolean);
  const paths = [
    ...names.flatMap((name) => folders.map((folder) => join(folder, name))),
    '/Applications/Chromium.app/Contents/MacOS/Chromium',
    '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
    // Where `npx playwright install` puts it.
    chromium.executablePath(),
  ];
  const present = await Promise.all(paths.map(exists));
  return paths.filter((_, at) => present[at]).map((executablePath) => ({ executablePath, env: {} }));
}

/** Only as root on Debian itself: elsewhere the package "chromium" may be a stub for another installer. */
async function byApt(): Promise<readonly Candidate[]> {
  const release = await readFile('/etc/os-release', 'utf8').catch(() => '');
  if (!/^ID=debian$/m.test(release) || process.getuid?.() !== 0) return [];
  const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
  const options = { env, timeout: 600_000, maxBuffer: 64 << 20 };
  await run('apt-get', ['update', '-q'], options);
  await run('apt-get', ['install', '-q', '-y', '--no-install-recommends', 'chromium'], options);
  return onThisMachine();
}

/**
 * The package unpacks into the temporary folder and takes anything found there for finished, so it gets a folder of its
 * own, which is moved into place when complete. It unpacks its system libraries only in a cloud function, which an
 * environment variable tells it; they are used only if the machine's own do not work.
 */
async function fromNpm(): Promise<readonly Candidate[]> {
  if (process.platform !== 'linux' || process.arch !== 'x64') return [];
  const require = createRequire(import.meta.url);
  const packed = dirname(require.resolve('@sparticuz/chromium'));
  const { mtimeMs } = await stat(packed);
  const cache = join(root, '.cache');
  const dir = join(cache, `chromium-${Math.round(mtimeMs)}`);
  if (!(await exists(dir))) {
    await mkdir(cache, { recursive: true });
    const unpacking = await mkdtemp(join(cache, 'unpacking-'));
    const code = "import('@sparticuz/chromium').then(({ default: bundled }) => bundled.executablePath())";
    const env = { ...process.env, TMPDIR: unpacking, AWS_EXECUTION_ENV: 'AWS_Lambda_nodejs20.x' };
    await run(process.execPath, ['--eval', code], { cwd: root, env, timeout: 600_000 });
    // If another process was first, its copy is as good.
    await rename(unpacking, dir).catch(() => rm(unpacking, { recursive: true, force: true }));
  }
  const executablePath = join(dir, 'chromium');
  const libraries = { LD_LIBRARY_PATH: join(dir, 'al2023/lib'), FONTCONFIG_PATH: join(dir, 'fonts') };
  return [
    { executablePath, env: {} },
    { executablePath, env: libraries },
  ];
}

function exists(path: string): Promise<boolean> {
  return access(path, constants.X_OK).then(
    () => true,
    () => false,
  );
}
