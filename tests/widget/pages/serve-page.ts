import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { createServer, type Server } from 'node:http';
import { tmpdir } from 'node:os';
import { extname, join, normalize } from 'node:path';
import { build } from 'vite';

/** A page of our own: its script built as the widget is, served from an address. */
export type ServedPage = { readonly url: string; close(): Promise<void> };

const TYPES: Readonly<Record<string, string>> = {
  '.js': 'text/javascript',
  '.map': 'application/json',
  '.html': 'text/html; charset=utf-8',
};

/** The strict policy a careful shop may have; no inline script or style, no eval. */
export const STRICT_POLICY =
  "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob:; connect-src 'self'; font-src 'self'; worker-src 'self'; require-trusted-types-for 'script'; trusted-types lit-html";

/**
 * Builds `entry` (a TypeScript module) into a folder of its own and serves it with `html`, which loads `/page.js`.
 * Any further path under `/` serves the built files.
 */
export async function servePage(
  entry: string,
  html: string,
  headers: Readonly<Record<string, string>> = {},
): Promise<ServedPage> {
  const dir = await mkdtemp(join(tmpdir(), 'platen-page-'));
  await build({
    configFile: false,
    logLevel: 'error',
    base: './',
    publicDir: false,
    build: {
      outDir: dir,
      emptyOutDir: true,
      target: 'es2022',
      modulePreload: false,
      lib: { entry: { page: entry }, formats: ['es'] },
      rolldownOptions: { output: { entryFileNames: '[name].js', chunkFileNames: 'chunks/[name]-[hash].js' } },
    },
    worker: { format: 'es' },
  });
  const server: Server = createServer((request, response) => {
    const path = new URL(request.url ?? '/', 'http://page').pathname;
    if (path === '/') {
      response.writeHead(200, { 'content-type': 'text/html; charset=utf-8', ...headers }).end(html);
      return;
    }
    if (path === '/favicon.ico') {
      response.writeHead(204).end();
      return;
    }
    readFile(join(dir, normalize(path)))
      .then((bytes) =>
        response
          .writeHead(200, { 'content-type': TYPES[extname(path)] ?? 'application/octet-stream', ...headers })
          .end(bytes),
      )
      .catch(() => response.writeHead(404).end());
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const address = server.address();
  if (address === null || typeof address === 'string') throw new Error('the page has no port');
  return {
    url: `http://127.0.0.1:${address.port}/`,
    close: async () => {
      server.closeAllConnections();
      await new Promise((resolve) => server.close(resolve));
      await rm(dir, { recursive: true, force: true });
    },
  };
}
