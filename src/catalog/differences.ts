/** One difference between two versions of a catalog. */
export type Difference = {
  readonly kind: 'added' | 'removed' | 'changed' | 'moved';
  /** dotted path, with the ids of list entries that have one: `blanks.tee.sizes.m.cost`. */
  readonly at: string;
  /** absent when added. */
  readonly before?: unknown;
  /** absent when removed. */
  readonly after?: unknown;
};

/**
 * The differences between two versions of a catalog, in the order of the later one; removed entries come last within
 * their list. Entries with ids are matched by id, so that inserting one is one difference. Entries whose order relative
 * to the others changed are `moved`.
 */
export function differencesOf(before: unknown, after: unknown): Difference[] {
  const found: Difference[] = [];
  compare('', before, after, found);
  return found;
}

function compare(at: string, before: unknown, after: unknown, found: Difference[]): void {
  if (Object.is(before, after)) return;
  if (before === undefined) found.push({ kind: 'added', at, after });
  else if (after === undefined) found.push({ kind: 'removed', at, before });
  else if (Array.isArray(before) && Array.isArray(after)) compareLists(at, before, after, found);
  else if (isObject(before) && isObject(after)) compareMembers(at, before, after, found);
  else found.push({ kind: 'changed', at, before, after });
}

function compareMembers(
  at: string,
  before: Readonly<Record<string, unknown>>,
  after: Readonly<Record<string, unknown>>,
  found: Difference[],
): void {
  for (const name of Object.keys(after)) compare(join(at, name), memberOf(before, name), after[name], found);
  for (const name of Object.keys(before))
    if (!Object.hasOwn(after, name)) compare(join(at, name), before[name], undefined, found);
}

function compareLists(
  at: string,
  before: readonly unknown[],
  after: readonly unknown[],
  found: Difference[],
): void {
  const beforeIds = idsOf(before);
  const afterIds = idsOf(after);
  if (beforeIds === undefined || afterIds === undefined) {
    const length = Math.max(before.length, after.length);
    for (let index = 0; index < length; index++)
      compare(join(at, `${index}`), before[index], after[index], found);
    return;
  }
  const keptBefore = beforeIds.filter((id) => afterIds.includes(id));
  const keptAfter = afterIds.filter((id) => beforeIds.includes(id));
  afterIds.forEach((id, index) => {
    const place = beforeIds.indexOf(id);
    const here = join(at, id);
    if (place >= 0 && keptBefore.indexOf(id) !== keptAfter.indexOf(id))
      found.push({ kind: 'moved', at: here, before: place, after: index });
    compare(here, place < 0 ? undefined : before[place], after[index], found);
  });
  beforeIds.forEach((id, index) => {
    if (!afterIds.includes(id)) compare(join(at, id), before[index], undefined, found);
  });
}

/** The ids of all entries; undefined unless every entry has an id and no two are equal. */
function idsOf(list: readonly unknown[]): string[] | undefined {
  const ids: string[] = [];
  for (const entry of list) {
    const id = isObject(entry) ? memberOf(entry, 'id') : undefined;
    if (typeof id !== 'string' || ids.includes(id)) return undefined;
    ids.push(id);
  }
  return ids;
}

function memberOf(object: Readonly<Record<string, unknown>>, name: string): unknown {
  return Object.hasOwn(object, name) ? object[name] : undefined;
}

function isObject(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function join(at: string, name: string): string {
  return at === '' ? name : `${at}.${name}`;
}
