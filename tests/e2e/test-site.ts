import { AxeBuilder } from '@axe-core/playwright';
import type { Browser, BrowserContext, Page } from 'playwright';
import { inject } from 'vitest';
import { launchChromium } from '../tools/browser/launch-chromium.ts';
import {
  type ServerOptions,
  type ServerProcess,
  startServerProcess,
} from '../tools/servers/server-process.ts';
import { requestResource } from '../tools/setup/broker.ts';

/** How long a page may take for what a test waits for: bounded only so that a broken test ends, never to time a page. */
const WAIT_MS = 120_000;

/** A visitor's browser: screen, input, language. */
export type Visitor = {
  /** default 1280 */
  readonly widthPx?: number;
  /** default 800 */
  readonly heightPx?: number;
  /** default false; true also makes the page behave as on a phone */
  readonly touch?: boolean;
  /** BCP 47; default 'en-US' */
  readonly locale?: string;
  /** IANA name; default 'America/Chicago' */
  readonly timeZone?: string;
  readonly colorScheme?: 'light' | 'dark';
  /** default true: tests should not wait for animations */
  readonly reducedMotion?: boolean;
  readonly forcedColors?: boolean;
  /** device pixels per CSS pixel; default 1 */
  readonly pixelRatio?: number;
  /** for HTTP basic authentication, with the name 'owner' */
  readonly password?: string;
};

/**
 * An open page. `faults` collects errors on the console, uncaught errors, requests that failed or went to another origin,
 * and answers of 500 and above. A test ends by expecting it to be empty; refusals (4xx) are expected and not listed.
 */
export type Visit = {
  readonly page: Page;
  readonly context: BrowserContext;
  readonly faults: readonly string[];
  leave(): Promise<void>;
};

export type TestSite = {
  readonly server: ServerProcess;
  /** folder of the build */
  readonly builtDir: string;
  readonly browser: Browser;
  /** Opens `path` ('/' is the demo shop's page) as `visitor` would see it. */
  visit(path?: string, visitor?: Visitor): Promise<Visit>;
  /** A blank page in a context shared by equal visitors, with its storage and cache; the caller closes it. */
  page(visitor?: Visitor): Promise<Page>;
  close(): Promise<void>;
};

/** Starts the real, built server on a free port with an empty data folder and the demo shop, and a real Chromium. */
export async function startTestSite(options: ServerOptions = {}): Promise<TestSite> {
  const builtDir = await requestResource(inject('buildBroker'));
  const server = await startServerProcess(builtDir, options);
  try {
    const browser = await launchChromium();
    const shared = new Map<string, Promise<BrowserContext>>();
    return {
      server,
      builtDir,
      browser,
      visit: (path = '/', visitor = {}) => visit(browser, new URL(path, server.url), visitor),
      async page(visitor = {}) {
        const key = JSON.stringify(visitor);
        const context = shared.get(key) ?? contextOf(browser, visitor);
        shared.set(key, context);
        return (await context).newPage();
      },
      async close() {
        await browser.close();
        await server.stop();
      },
    };
  } catch (error) {
    await server.stop();
    throw error;
  }
}

async function contextOf(browser: Browser, visitor: Visitor): Promise<BrowserContext> {
  const touch = visitor.touch ?? false;
  const context = await browser.newContext({
    viewport: { width: visitor.widthPx ?? 1280, height: visitor.heightPx ?? 800 },
    hasTouch: touch,
    isMobile: touch,
    locale: visitor.locale ?? 'en-US',
    timezoneId: visitor.timeZone ?? 'America/Chicago',
    colorScheme: visitor.colorScheme ?? 'light',
    reducedMotion: (visitor.reducedMotion ?? true) ? 'reduce' : 'no-preference',
    forcedColors: visitor.forcedColors ? 'active' : 'none',
    deviceScaleFactor: visitor.pixelRatio ?? 1,
    ...(visitor.password === undefined
      ? {}
      : { httpCredentials: { username: 'owner', password: visitor.password } }),
  });
  context.setDefaultTimeout(WAIT_MS);
  return context;
}

async function visit(browser: Browser, url: URL, visitor: Visitor): Promise<Visit> {
  const context = await contextOf(browser, visitor);
  const page = await context.newPage();
  const faults = watch(page, url.origin);
  await page.goto(url.href);
  return { page, context, faults, leave: () => context.close() };
}

function watch(page: Page, origin: string): readonly string[] {
  const faults: string[] = [];
  page.on('pageerror', (error) => faults.push(`uncaught: ${error.message}`));
  page.on('console', (message) => {
    // Chromium logs answers of 4xx and 5xx as well; those are checked below.
    if (message.type() !== 'error' || message.text().startsWith('Failed to load resource')) return;
    faults.push(`console: ${message.text()} (${message.location().url})`);
  });
  page.on('requestfailed', (request) => {
    const why = request.failure()?.errorText ?? 'unknown';
    // The page itself cancels requests that it no longer needs.
    if (why !== 'net::ERR_ABORTED') faults.push(`request failed: ${request.url()} ${why}`);
  });
  page.on('request', (request) => {
    const { protocol, origin: to } = new URL(request.url());
    if ((protocol === 'http:' || protocol === 'https:') && to !== origin)
      faults.push(`left the site: ${request.url()}`);
  });
  page.on('response', (response) => {
    if (response.status() >= 500) faults.push(`answer ${response.status()}: ${response.url()}`);
  });
  return faults;
}

/**
 * What axe finds wrong on the page, shadow roots included: one line per fault, rule first. Empty is good.
 *
 * @param within CSS selector of the part to check; default the whole page
 * @param rules names of axe's rules; default all for WCAG 2.2 AA
 */
export async function accessibilityFaults(
  page: Page,
  within?: string,
  rules?: readonly string[],
): Promise<readonly string[]> {
  const axe = new AxeBuilder({ page });
  const builder = (
    rules ? axe.withRules([...rules]) : axe.withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'])
  )
    // The other mode opens a second page to collect results of frames, and there are no frames.
    .setLegacyMode();
  const { violations, passes } = await (within === undefined ? builder : builder.include(within)).analyze();
  if ((await page.locator('iframe, frame').count()) > 0) throw new Error('axe does not check frames here');
  if (passes.length === 0 && violations.length === 0) throw new Error('axe checked nothing');
  return violations.flatMap(({ id, help, nodes }) =>
    nodes.map(
      ({ target, failureSummary }) => `${id}: ${help} at ${JSON.stringify(target)} (${failureSummary ?? ''})`,
    ),
  );
}
