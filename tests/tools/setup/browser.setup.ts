import type { TestProject } from 'vitest/node';
import { type FoundBrowser, findBrowser } from '../browser/find-browser.ts';

declare module 'vitest' {
  interface ProvidedContext {
    /** The Chromium that this run's browser tests use. */
    browser: FoundBrowser;
  }
}

/** Before browser tests: finds a Chromium, installing one if necessary, and prints which. */
export default async function setup(project: TestProject): Promise<void> {
  const found = await findBrowser();
  process.stderr.write(`Browser for tests: ${found.version} (${found.source}, ${found.executablePath})\n`);
  project.provide('browser', found);
}
