import { execFile } from 'node:child_process';
import { resolve } from 'node:path';
import { promisify } from 'node:util';
import type { TestProject } from 'vitest/node';
import { type FoundBrowser, findBrowser } from './browser.ts';

declare module 'vitest' {
  interface ProvidedContext {
    /** The Chromium that this run's browser tests use. */
    browser: FoundBrowser;
  }
}

/** Before browser tests: says which Chromium is used, and builds the widget as a shop would serve it. */
export default async function setup(project: TestProject): Promise<void> {
  const found = await findBrowser();
  process.stderr.write(`Browser for tests: ${found.version} (${found.source}, ${found.executablePath})\n`);
  project.provide('browser', found);
  const root = resolve(import.meta.dirname, '../..');
  const vite = resolve(root, 'node_modules/vite/bin/vite.js');
  await promisify(execFile)(process.execPath, [vite, 'build', '--logLevel', 'warn'], { cwd: root });
}
