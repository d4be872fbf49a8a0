import type { Page } from 'playwright';
import type { TestSite, Visit, Visitor } from '../../e2e/test-site.ts';

/** A page that embeds the slip. */
export type HostPage = {
  /** inside <body>. */
  readonly body: string;
  /** inside <head>, after the charset. */
  readonly head?: string;
  readonly headers?: Readonly<Record<string, string>>;
  readonly htmlAttributes?: string;
  /** other files of the page, by path. */
  readonly files?: Readonly<Record<string, { readonly type: string; readonly body: string }>>;
};

export const SLIP = '<platen-order shop="quill-and-kettle"></platen-order>';
export const SCRIPT = '<script type="module" src="/widget/platen-order.js"></script>';

/** Opens a page at the server's origin, so that the API is of the page's own origin. */
export async function visitHost(rig: TestSite, host: HostPage, visitor: Visitor = {}): Promise<Visit> {
  const visit = await rig.visit('/healthz', visitor);
  await serveHost(visit.page, rig.server.url, host);
  await visit.page.goto(new URL('/host.html', rig.server.url).href);
  return visit;
}

export async function serveHost(page: Page, origin: string, host: HostPage): Promise<void> {
  await page.route(new URL('/host.html', origin).href, (route) =>
    route.fulfill({
      contentType: 'text/html; charset=utf-8',
      headers: { ...host.headers },
      body: `<!doctype html><html lang="en" ${host.htmlAttributes ?? ''}><head><meta charset="utf-8"><title>Host</title>${host.head ?? ''}</head><body>${host.body}</body></html>`,
    }),
  );
  for (const [path, file] of Object.entries(host.files ?? {}))
    await page.route(new URL(path, origin).href, (route) =>
      route.fulfill({ contentType: file.type, body: file.body }),
    );
}
