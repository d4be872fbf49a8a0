import {
  type CssNode,
  type Declaration,
  generate,
  ident,
  List,
  parse,
  type StyleSheet,
  walk,
} from 'css-tree';
import { ALLOWED_FUNCTIONS, ALLOWED_PROPERTIES } from './allowed.ts';

/** How many external references and active parts were dropped. */
export type Dropped = { external: number; active: number };

/** A value with only local references and allowed functions, serialized again; null if it must be dropped. */
export function cleanValue(text: string, dropped: Dropped): string | null {
  const ast = parseOrNull(text, 'value');
  if (ast === null || !isCleanValue(ast, dropped)) return null;
  return generate(ast);
}

/** The allowed declarations of a `style` attribute, serialized again. */
export function cleanDeclarations(text: string, dropped: Dropped): string {
  const ast = parseOrNull(text, 'declarationList');
  if (ast === null || ast.type !== 'DeclarationList') return '';
  keepCleanDeclarations(ast.children, dropped);
  return generate(ast);
}

/** A rule of a style sheet: the last compound of each selector, and its declarations. */
export type StyleRule = {
  readonly subjects: readonly Subject[];
  readonly declarations: ReadonlyMap<string, string>;
};

/** The subject of a selector. Null matches any; what precedes the last compound is ignored. */
export type Subject = {
  readonly element: string | null;
  readonly id: string | null;
  readonly classes: readonly string[];
};

/** The allowed plain rules of a style sheet: serialized as `text`, and as data. */
export function cleanStyleSheet(
  text: string,
  dropped: Dropped,
): { readonly text: string; readonly rules: readonly StyleRule[] } {
  const ast = parseOrNull(text, 'stylesheet');
  if (ast === null || ast.type !== 'StyleSheet') return { text: '', rules: [] };
  const kept = new List<CssNode>();
  const rules: StyleRule[] = [];
  for (const node of (ast as StyleSheet).children) {
    if (node.type === 'Atrule') {
      if (node.name.toLowerCase() === 'import') dropped.external++;
      continue;
    }
    if (node.type !== 'Rule' || node.prelude.type !== 'SelectorList') continue;
    keepCleanDeclarations(node.block.children, dropped);
    if (node.block.children.isEmpty) continue;
    kept.appendData(node);
    rules.push({
      subjects: node.prelude.children.toArray().map(subjectOf),
      declarations: new Map(
        node.block.children
          .toArray()
          .filter((child): child is Declaration => child.type === 'Declaration')
          .map((declaration) => [declaration.property.toLowerCase(), generate(declaration.value)]),
      ),
    });
  }
  return { text: generate({ type: 'StyleSheet', children: kept }), rules };
}

function parseOrNull(text: string, context: 'value' | 'declarationList' | 'stylesheet'): CssNode | null {
  try {
    return parse(text, { context, parseCustomProperty: false });
  } catch {
    return null;
  }
}

function keepCleanDeclarations(children: List<CssNode>, dropped: Dropped): void {
  children.forEach((child, item, list) => {
    const good =
      child.type === 'Declaration' &&
      ALLOWED_PROPERTIES.has(child.property.toLowerCase()) &&
      isCleanValue(child.value, dropped);
    if (!good) list.remove(item);
  });
}

function isCleanValue(value: CssNode, dropped: Dropped): boolean {
  let clean = true;
  walk(value, (node) => {
    if (node.type === 'Url') {
      if (node.value.startsWith('#')) return;
      clean = false;
      dropped.external++;
    } else if (node.type === 'Raw') {
      // Not parseable, most likely because of a URL.
      clean = false;
      if (node.value.includes('//')) dropped.external++;
    } else if (node.type === 'Function') {
      // A name may be written with escapes.
      const name = ident.decode(node.name).toLowerCase();
      if (ALLOWED_FUNCTIONS.has(name)) return;
      clean = false;
      if (/^(url|src|image|image-set|element)$/.test(name)) dropped.external++;
    }
  });
  return clean;
}

function subjectOf(selector: CssNode): Subject {
  let element: string | null = null;
  let id: string | null = null;
  let classes: string[] = [];
  if (selector.type === 'Selector') {
    for (const part of selector.children) {
      if (part.type === 'Combinator') {
        element = null;
        id = null;
        classes = [];
      } else if (part.type === 'TypeSelector' && part.name !== '*') element = part.name.replace(/^.*\|/, '');
      else if (part.type === 'IdSelector') id = part.name;
      else if (part.type === 'ClassSelector') classes.push(part.name);
    }
  }
  return { element, id, classes };
}
