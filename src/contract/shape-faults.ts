import type { z } from 'zod';
import type { Fault } from './problem.ts';

/** Most faults in one answer: a broken document of thousands of lines need not be reported in full. */
const FAULTS_MAX = 500;
/** Longest refused text that is sent back in full, characters. */
const VALUE_MAX = 200;

/**
 * The faults of a zod error, each with its place as a dotted path (`lines.0.counts.1.count`), the value found there
 * (shortened) and what is allowed.
 */
export function shapeFaults(error: z.ZodError, input: unknown): Fault[] {
  const faults: Fault[] = [];
  for (const issue of error.issues) addIssue(faults, issue, input, []);
  return faults.slice(0, FAULTS_MAX);
}

/** The value as it may be sent back: numbers, short texts and booleans as they are, anything else described. */
export function echoed(value: unknown): unknown {
  if (typeof value === 'string')
    return value.length > VALUE_MAX ? `${value.slice(0, VALUE_MAX)}… (${value.length} characters)` : value;
  if (typeof value === 'number') return Number.isFinite(value) ? value : String(value);
  if (value === null || typeof value === 'boolean' || value === undefined) return value;
  if (Array.isArray(value)) return `a list of ${value.length}`;
  return typeof value === 'object' ? `an object with ${Object.keys(value).length} members` : typeof value;
}

function addIssue(
  faults: Fault[],
  issue: z.core.$ZodIssue,
  input: unknown,
  above: readonly PropertyKey[],
): void {
  const path = [...above, ...issue.path];
  if (issue.code === 'invalid_union' && issue.errors.length > 0) {
    // Report only the branch that came closest: the one whose first fault is deepest.
    const deepest = issue.errors.reduce((best, branch) => (depth(branch) > depth(best) ? branch : best));
    if (depth(deepest) > 0) {
      for (const inner of deepest) addIssue(faults, inner, input, path);
      return;
    }
  }
  if (issue.code === 'unrecognized_keys') {
    for (const key of issue.keys) {
      faults.push({
        at: dotted([...path, key]),
        message: `"${key.slice(0, 80)}" is not a member here`,
        value: echoed(valueAt(input, [...path, key])),
        allowed: 'only the members of the documented shape',
      });
    }
    return;
  }
  const value = echoed(valueAt(input, path));
  const allowed = allowedBy(issue);
  faults.push({
    at: dotted(path),
    message: issue.message,
    ...(value === undefined ? {} : { value }),
    ...(allowed === undefined ? {} : { allowed }),
  });
}

function depth(branch: readonly z.core.$ZodIssue[]): number {
  return branch.reduce((most, issue) => Math.max(most, issue.path.length), 0);
}

function allowedBy(issue: z.core.$ZodIssue): string | undefined {
  switch (issue.code) {
    case 'too_small':
      return `${issue.inclusive === false ? 'more than' : 'at least'} ${issue.minimum} ${unitOf(issue.origin)}`.trim();
    case 'too_big':
      return `${issue.inclusive === false ? 'less than' : 'at most'} ${issue.maximum} ${unitOf(issue.origin)}`.trim();
    case 'invalid_value':
      return `one of: ${issue.values.map(String).join(', ')}`;
    case 'invalid_type':
      return issue.expected === 'int' ? 'a whole number' : `${article(issue.expected)} ${issue.expected}`;
    case 'invalid_format':
      return issue.pattern ?? issue.format;
    case 'invalid_union': {
      const branches = issue.errors.flatMap(([first]) =>
        first === undefined ? [] : (allowedBy(first) ?? []),
      );
      return branches.length === 0 ? undefined : [...new Set(branches)].join(', or ');
    }
    default:
      return undefined;
  }
}

function article(noun: string): string {
  return /^[aeiou]/.test(noun) ? 'an' : 'a';
}

function unitOf(origin: string): string {
  if (origin === 'string') return 'characters';
  return origin === 'array' || origin === 'set' ? 'entries' : '';
}

function valueAt(input: unknown, path: readonly PropertyKey[]): unknown {
  let value = input;
  for (const key of path) {
    if (value === null || typeof value !== 'object' || !Object.hasOwn(value, key)) return undefined;
    value = (value as Record<PropertyKey, unknown>)[key];
  }
  return value;
}

function dotted(path: readonly PropertyKey[]): string {
  return path.map((key) => String(key).slice(0, 80)).join('.');
}
