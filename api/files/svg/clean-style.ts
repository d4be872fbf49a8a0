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

/** What was left out while cleaning. */
export type Dropped = { external: number; active: number };

/** A value with nothing but local references and known functions in it, written out anew; null when it must go. */
export function cleanValue(text: string, dropped: Dropped): string | null {
  const ast = parseOrNull(text, 'value');
  if (ast === null || !isCleanValue(ast, dropped)) return null;
  return generate(ast);
}

/** The declarations of a `style` attribute, cleaned and written anew. */
export function cleanDeclarations(text: string, dropped: Dropped): string {
  const ast = parseOrNull(text, 'declarationList');
  if (ast === null || ast.type !== 'DeclarationList') return '';
  keepCleanDeclarations(ast.children, dropped);
  return generate(ast);
}

/** A rule of a style sheet: the last compound of each selector, and what it declares. */
export type StyleRule = {
  readonly subjects: readonly Subject[];
  readonly declarations: ReadonlyMap<string, string>;
};

/** The element a selector is about. Whatever is not said (null) fits any; combinators before it are not looked at. */
export type Subject = {
  readonly element: string | null;
  readonly id: string | null;
  readonly classes: readonly string[];
};

/** A style sheet with plain rules only, cleaned; `text` is written anew, `rules` is what they say. */
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
      // Could not be parsed, so it goes; an address in it is most likely why.
      clean = false;
      if (node.value.includes('//')) dropped.external++;
    } else if (node.type === 'Function') {
      // Written with escapes a name is still that name.
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
