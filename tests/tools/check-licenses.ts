/** `npm run check:licenses`: fails if a package that ships with the product has a license that binds the shop's own code. */
import { readFile } from 'node:fs/promises';
import { pathToFileURL } from 'node:url';
import satisfies from 'spdx-satisfies';

/** Licenses that ask for no more than their notice. */
const ALLOWED = [
  '0BSD',
  'Apache-2.0',
  'BlueOak-1.0.0',
  'BSD-2-Clause',
  'BSD-3-Clause',
  'CC0-1.0',
  'ISC',
  'MIT',
  'OFL-1.1',
  'Python-2.0',
  'Unlicense',
];

/**
 * Exceptions by package. sharp's binaries link libvips dynamically, as a file that can be replaced: the LGPL then binds
 * changes to libvips alone.
 */
const EXCEPTIONS: readonly (readonly [name: RegExp, licenses: readonly string[]])[] = [
  [/^@img\/sharp-/, ['LGPL-3.0-or-later']],
];

/** What of a package in package-lock.json (version 3) matters here. */
export type LockedPackage = {
  readonly version?: string;
  /** an SPDX expression. */
  readonly license?: string;
  /** only development needs it. */
  readonly dev?: boolean;
};

/**
 * Names every package of production whose license is missing or not allowed.
 * @param packages by path; the root, '', is left out
 */
export function findForbiddenLicenses(packages: Readonly<Record<string, LockedPackage>>): string[] {
  return Object.entries(packages).flatMap(([path, { version, license, dev }]) => {
    if (path === '' || dev === true) return [];
    const name = path.slice(path.lastIndexOf('node_modules/') + 'node_modules/'.length);
    const more = EXCEPTIONS.find(([pattern]) => pattern.test(name))?.[1] ?? [];
    return isAllowed(license, [...ALLOWED, ...more])
      ? []
      : [`${name}@${version}: ${license ?? 'no license'}`];
  });
}

function isAllowed(license: string | undefined, allowed: readonly string[]): boolean {
  try {
    return license !== undefined && satisfies(license, [...allowed]);
  } catch {
    // Not an SPDX expression, such as "SEE LICENSE IN ...": somebody has to read it.
    return false;
  }
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  const lock = JSON.parse(await readFile('package-lock.json', 'utf8')) as {
    packages: Record<string, LockedPackage>;
  };
  const forbidden = findForbiddenLicenses(lock.packages);
  for (const line of forbidden) process.stderr.write(`license not allowed: ${line}\n`);
  process.exitCode = forbidden.length === 0 ? 0 : 1;
}
