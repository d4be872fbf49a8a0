import { readFile } from 'node:fs/promises';
import { describe, expect, it } from 'vitest';
import { findForbiddenLicenses } from '../../tools/check-licenses.ts';

const lock = JSON.parse(await readFile('package-lock.json', 'utf8'));

describe('licenses of production packages', () => {
  it('are all allowed', () => {
    expect(Object.keys(lock.packages).length).toBeGreaterThan(100);
    expect(findForbiddenLicenses(lock.packages)).toEqual([]);
  });

  it.each([
    ['GPL-3.0-only', true],
    ['AGPL-3.0-or-later', true],
    ['LGPL-3.0-or-later', true],
    ['(MIT AND GPL-2.0-only)', true],
    ['SEE LICENSE IN LICENSE.txt', true],
    [undefined, true],
    ['(MIT OR GPL-2.0-only)', false],
    ['BlueOak-1.0.0', false],
  ] as const)('%s: forbidden is %s', (license, forbidden) => {
    const planted = {
      '': { license: 'GPL-3.0-only' },
      'node_modules/kept/node_modules/@planted/one': { version: '1.0.0', ...(license && { license }) },
    };
    expect(findForbiddenLicenses(planted)).toEqual(
      forbidden ? [`@planted/one@1.0.0: ${license ?? 'no license'}`] : [],
    );
  });

  it('do not matter in development', () => {
    expect(findForbiddenLicenses({ 'node_modules/tool': { license: 'GPL-3.0-only', dev: true } })).toEqual(
      [],
    );
  });

  it('of libvips are allowed in the binaries of sharp alone', () => {
    const license = 'Apache-2.0 AND LGPL-3.0-or-later';
    expect(
      findForbiddenLicenses({
        'node_modules/@img/sharp-win32-x64': { version: '1.0.0', license },
        'node_modules/other': { version: '1.0.0', license },
      }),
    ).toEqual([`other@1.0.0: ${license}`]);
  });
});
