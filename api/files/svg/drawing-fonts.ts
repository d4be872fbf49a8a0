import { parse, walk as walkCss } from 'css-tree';
import type { Cascade } from './cascade.ts';
import type { DrawingNode } from './drawing-node.ts';

/**
 * The families that the renderer gets, whatever is installed: Liberation Sans, also as `sans-serif`. All others are reported
 * to the customer, even if this machine has them, so that the answer does not depend on the machine.
 */
export const BUNDLED_FAMILIES: ReadonlySet<string> = new Set(['sans-serif', 'liberation sans']);

/** Scripts missing in Liberation Sans, by their Unicode names. */
const OTHER_SCRIPTS = [
  ['Arabic', /\p{Script=Arabic}/u],
  ['Armenian', /\p{Script=Armenian}/u],
  ['Bengali', /\p{Script=Bengali}/u],
  ['Devanagari', /\p{Script=Devanagari}/u],
  ['Ethiopic', /\p{Script=Ethiopic}/u],
  ['Georgian', /\p{Script=Georgian}/u],
  ['Gujarati', /\p{Script=Gujarati}/u],
  ['Gurmukhi', /\p{Script=Gurmukhi}/u],
  ['Han', /\p{Script=Han}/u],
  ['Hangul', /\p{Script=Hangul}/u],
  ['Hiragana', /\p{Script=Hiragana}/u],
  ['Kannada', /\p{Script=Kannada}/u],
  ['Katakana', /\p{Script=Katakana}/u],
  ['Khmer', /\p{Script=Khmer}/u],
  ['Malayalam', /\p{Script=Malayalam}/u],
  ['Sinhala', /\p{Script=Sinhala}/u],
  ['Tamil', /\p{Script=Tamil}/u],
  ['Telugu', /\p{Script=Telugu}/u],
  ['Thai', /\p{Script=Thai}/u],
  ['Tibetan', /\p{Script=Tibetan}/u],
  ['Emoji', /\p{Extended_Pictographic}/u],
] as const;

const MAX_FONTS_NAMED = 50;

/** Families that the drawing's text uses and the renderer does not have, in order of appearance. */
export function missingFonts(root: DrawingNode, cascade: Cascade): readonly string[] {
  const missing = new Map<string, string>();
  const visit = (node: DrawingNode, inherited: readonly string[]): void => {
    const own = familiesOf(node, cascade);
    const families = own.length > 0 ? own : inherited;
    for (const child of node.children) {
      if (typeof child !== 'string') visit(child, families);
      else if (node.name !== 'style' && child.trim() !== '') {
        for (const family of families) {
          const key = family.toLowerCase();
          if (!BUNDLED_FAMILIES.has(key) && !missing.has(key)) missing.set(key, family);
        }
        for (const [script, pattern] of OTHER_SCRIPTS)
          if (!missing.has(script) && pattern.test(child)) missing.set(script, script);
      }
    }
  };
  visit(root, []);
  return [...missing.values()].slice(0, MAX_FONTS_NAMED);
}

/** The first family of every list the element may get; the rest are fallbacks. */
function familiesOf(node: DrawingNode, cascade: Cascade): readonly string[] {
  const lists = [
    ...cascade.valuesOf(node, 'font-family'),
    ...cascade.valuesOf(node, 'font').map(familyPartOf),
  ];
  return lists.map(firstFamily).filter((family) => family !== '' && family !== 'inherit');
}

function firstFamily(list: string): string {
  const ast = parse(list, { context: 'value' });
  const names: string[] = [];
  let done = false;
  if (ast.type === 'Value') {
    for (const node of ast.children) {
      if (done) break;
      if (node.type === 'Operator' && node.value === ',') done = true;
      else if (node.type === 'String') names.push(node.value);
      else if (node.type === 'Identifier') names.push(node.name);
    }
  }
  return names.join(' ').slice(0, 200);
}

/** In the `font` shorthand the families follow the size (CSS Fonts 3, 3.7). */
function familyPartOf(shorthand: string): string {
  const ast = parse(shorthand, { context: 'value' });
  if (ast.type !== 'Value') return '';
  let seenSize = false;
  const families: string[] = [];
  walkCss(ast, (node) => {
    if (node.type === 'Dimension' || node.type === 'Percentage') {
      seenSize = true;
      families.length = 0;
    } else if (seenSize && node.type === 'String') families.push(JSON.stringify(node.value));
    else if (seenSize && node.type === 'Identifier') families.push(node.name);
    else if (seenSize && node.type === 'Operator' && node.value === ',') families.push(',');
  });
  return families.join(' ');
}
