/** A value as JSON with the members of every object sorted by name and undefined ones left out: equal values, equal text. */
export function canonicalJson(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map((entry) => canonicalJson(entry ?? null)).join()}]`;
  if (value === null || typeof value !== 'object') return JSON.stringify(value) ?? 'null';
  const members = value as Readonly<Record<string, unknown>>;
  const parts: string[] = [];
  for (const name of Object.keys(members).sort()) {
    const member = members[name];
    if (member !== undefined) parts.push(`${JSON.stringify(name)}:${canonicalJson(member)}`);
  }
  return `{${parts.join()}}`;
}
