/** Imported by a server that renders pages, where there is no document: nothing happens, and nothing fails. */
import { execFile } from 'node:child_process';
import { promisify } from 'node:util';
import { beforeAll, describe, expect, inject, it } from 'vitest';
import { requestResource } from '../tools/setup/broker.ts';

const run = promisify(execFile);
let shop: string;
beforeAll(async () => {
  shop = await requestResource(inject('packageBroker'));
}, 600_000);

describe.each(['peel-and-platen', 'peel-and-platen/element', 'peel-and-platen/react'])('%s', (name) => {
  it.each(['module', 'commonjs'] as const)('in Node as a %s', async (how) => {
    const from = how === 'module' ? `await import('${name}')` : `require('${name}')`;
    const code = `
      const { PlatenOrder } = ${from};
      console.log(JSON.stringify([PlatenOrder.formAssociated, typeof document, typeof window]));`;
    const { stdout, stderr } = await run(
      process.execPath,
      ['--disable-warning=ExperimentalWarning', `--input-type=${how}`, '--eval', code],
      { cwd: shop, env: { ...process.env, NODE_OPTIONS: '' } },
    );
    expect(stderr).toBe('');
    expect(JSON.parse(stdout)).toEqual([true, 'undefined', 'undefined']);
  });
});

it('takes the copy of Lit that the server has, in its build for Node', async () => {
  const code = `
    import { isServer } from 'lit';
    import { LitElement } from 'lit';
    import { PlatenOrder } from 'peel-and-platen';
    console.log(JSON.stringify([isServer, Object.getPrototypeOf(PlatenOrder) === LitElement]));`;
  const { stdout } = await run(process.execPath, ['--input-type=module', '--eval', code], {
    cwd: shop,
    env: { ...process.env, NODE_OPTIONS: '' },
  });
  expect(JSON.parse(stdout)).toEqual([true, true]);
});
