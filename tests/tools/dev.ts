import { type ChildProcess, spawn } from 'node:child_process';
import { join, resolve } from 'node:path';

/** `npm run dev`: rebuilds the widget and restarts the server on every change, until either ends or Ctrl-C. */
const root = resolve(import.meta.dirname, '../..');
const bin = (path: string) => join(root, 'node_modules', path);

const children: readonly ChildProcess[] = [
  [bin('vite/bin/vite.js'), 'build', '--config', 'widget/vite.config.ts', '--watch', '--logLevel', 'warn'],
  [bin('tsx/dist/cli.mjs'), 'watch', '--clear-screen=false', 'api/server.ts'],
].map((args) => spawn(process.execPath, args, { cwd: root, stdio: 'inherit' }));

for (const child of children) {
  child.once('exit', (code) => {
    for (const other of children) if (other !== child) other.kill('SIGTERM');
    process.exitCode ??= code ?? 0;
  });
}
for (const signal of ['SIGINT', 'SIGTERM'] as const) {
  process.on(signal, () => {
    for (const child of children) child.kill(signal);
  });
}
