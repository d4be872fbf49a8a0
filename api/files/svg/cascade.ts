import { parse, walk as walkCss } from 'css-tree';
import type { StyleRule, Subject } from './clean-style.ts';
import type { DrawingNode } from './drawing-node.ts';

/** The values an element may get from attributes, style sheets and its own style. */
export type Cascade = {
  /** every value the element may get for a property, from the strongest source to the weakest. */
  valuesOf(node: DrawingNode, property: string): readonly string[];
  /** every reference to another part of the drawing, with its property. */
  referencesOf(node: DrawingNode): readonly Reference[];
};

export type Reference = { readonly property: string; readonly id: string };

/**
 * An upper bound of the cascade: a rule is assumed to match every element that fits the last compound of its selector.
 * Enough to bound work and to find fonts; the renderer applies the real cascade.
 */
export function createCascade(rules: readonly StyleRule[]): Cascade {
  const buckets = new Map<string, StyleRule[]>();
  const bucket = (key: string, rule: StyleRule): void => {
    const found = buckets.get(key);
    if (found === undefined) buckets.set(key, [rule]);
    else found.push(rule);
  };
  for (const rule of rules) for (const subject of rule.subjects) bucket(keyOf(subject), rule);
  const styles = new WeakMap<DrawingNode, ReadonlyMap<string, string>>();

  const matches = new WeakMap<DrawingNode, readonly StyleRule[]>();

  const matching = (node: DrawingNode): readonly StyleRule[] => {
    if (rules.length === 0) return [];
    let found = matches.get(node);
    if (found === undefined) {
      const id = node.attributes.get('id');
      const classes = (node.attributes.get('class') ?? '').split(/\s+/).filter((name) => name !== '');
      const keys = ['*', `<${node.name}`, ...classes.map((name) => `.${name}`)];
      if (id !== undefined) keys.push(`#${id}`);
      found = keys
        .flatMap((key) => buckets.get(key) ?? [])
        .filter((rule) => rule.subjects.some((subject) => fits(subject, node.name, id, classes)));
      matches.set(node, found);
    }
    return found;
  };
  const styleOf = (node: DrawingNode): ReadonlyMap<string, string> => {
    const text = node.attributes.get('style');
    if (text === undefined) return NO_STYLE;
    let style = styles.get(node);
    if (style === undefined) {
      style = declarationsOf(text);
      styles.set(node, style);
    }
    return style;
  };

  return {
    valuesOf(node, property) {
      const values: string[] = [];
      const own = styleOf(node).get(property);
      if (own !== undefined) values.push(own);
      for (const rule of matching(node).toReversed()) {
        const value = rule.declarations.get(property);
        if (value !== undefined) values.push(value);
      }
      const attribute = node.attributes.get(property);
      if (attribute !== undefined) values.push(attribute);
      return values;
    },
    referencesOf(node) {
      const references: Reference[] = [];
      const add = (property: string, value: string): void => {
        if (!/url\(/i.test(value)) return;
        for (const id of localIds(value)) references.push({ property, id });
      };
      for (const [name, value] of node.attributes) if (name !== 'style') add(name, value);
      for (const [name, value] of styleOf(node)) add(name, value);
      for (const rule of matching(node)) for (const [name, value] of rule.declarations) add(name, value);
      const href = node.attributes.get('href');
      if (href?.startsWith('#')) references.push({ property: 'href', id: href.slice(1) });
      return references;
    },
  };
}

const NO_STYLE: ReadonlyMap<string, string> = new Map();

function keyOf(subject: Subject): string {
  if (subject.id !== null) return `#${subject.id}`;
  if (subject.classes.length > 0) return `.${subject.classes[0]}`;
  return subject.element === null ? '*' : `<${subject.element}`;
}

function fits(subject: Subject, name: string, id: string | undefined, classes: readonly string[]): boolean {
  if (subject.element !== null && subject.element !== name) return false;
  if (subject.id !== null && subject.id !== id) return false;
  return subject.classes.every((name) => classes.includes(name));
}

/** Splits text written by the cleaner, where a declaration ends at a semicolon outside quotes and brackets. */
function declarationsOf(style: string): ReadonlyMap<string, string> {
  const found = new Map<string, string>();
  for (const part of style.match(/(?:[^;"'(]|"[^"]*"|'[^']*'|\([^)]*\))+/g) ?? []) {
    const colon = part.indexOf(':');
    if (colon > 0) found.set(part.slice(0, colon).trim().toLowerCase(), part.slice(colon + 1).trim());
  }
  return found;
}

function localIds(value: string): string[] {
  const ids: string[] = [];
  walkCss(parse(value, { context: 'value' }), (node) => {
    if (node.type === 'Url' && node.value.startsWith('#')) ids.push(node.value.slice(1));
  });
  return ids;
}
