import { existsSync } from 'node:fs';
import { chromium } from 'playwright';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { BROWSER_FLAGS, type BrowserSource, findBrowser } from '../../tools/browser/find-browser.ts';

afterEach(() => vi.unstubAllEnvs());

async function titleSeenBy(sources: readonly BrowserSource[]): Promise<string> {
  const { executablePath, env } = await findBrowser(sources);
  const browser = await chromium.launch({
    executablePath,
    args: [...BROWSER_FLAGS],
    env: { ...process.env, ...env } as Record<string, string>,
  });
  try {
    const page = await browser.newPage();
    await page.setContent('<title>before</title><script>document.title = "drawn by script"</script>');
    return await page.title();
  } finally {
    await browser.close();
  }
}

describe('finding a browser for tests', () => {
  it.runIf(process.platform === 'linux' && process.arch === 'x64')(
    'gets one from npm when the machine has none',
    async () => {
      vi.stubEnv('CHROME_PATH', '');
      expect(await titleSeenBy(['npm'])).toBe('drawn by script');
    },
  );

  it('gets one on this machine, from any source', async () => {
    expect(await titleSeenBy(['machine', 'apt', 'npm'])).toBe('drawn by script');
  });

  it('names the program of CHROME_PATH when that is not a browser', async () => {
    vi.stubEnv('CHROME_PATH', process.execPath);
    await expect(findBrowser()).rejects.toThrow(`${process.execPath} --version says`);
    vi.stubEnv('CHROME_PATH', '/no/such/browser');
    await expect(findBrowser()).rejects.toThrow('/no/such/browser');
  });

  it.runIf(process.platform === 'linux' && !existsSync(chromium.executablePath()))(
    'lists what it tried when it found none',
    async () => {
      vi.stubEnv('CHROME_PATH', '');
      vi.stubEnv('PATH', '/no/such/folder');
      await expect(findBrowser(['machine'])).rejects.toThrow("browser tests: the machine's own: none");
    },
  );
});
