import { SaxesParser, type SaxesTagNS } from 'saxes';
import { SVG_LIMITS } from '../limits.ts';
import { type FileRefusal, tooComplex } from '../refusal.ts';
import {
  ACTIVE_ELEMENTS,
  ALLOWED_ATTRIBUTES,
  ALLOWED_ELEMENTS,
  ALLOWED_PROPERTIES,
  LOCAL_HREF_ELEMENTS,
} from './allowed.ts';
import {
  cleanDeclarations,
  cleanStyleSheet,
  cleanValue,
  type Dropped,
  type StyleRule,
} from './clean-style.ts';
import type { DrawingNode } from './drawing-node.ts';

const SVG_SPACE = 'http://www.w3.org/2000/svg';
const XLINK_SPACE = 'http://www.w3.org/1999/xlink';

/** A drawing with only allowed parts. */
export type Drawing = {
  readonly root: DrawingNode;
  readonly rules: readonly StyleRule[];
  readonly dropped: Readonly<Dropped>;
};

/**
 * Parses an SVG and keeps what the lists in `allowed.ts` name: no entities, scripts, handlers or external URLs. Embedded
 * pictures stay as they are; their bytes are checked later.
 */
export function readDrawing(text: string): Drawing | FileRefusal {
  const reader = new DrawingReader();
  const parser = new SaxesParser({ xmlns: true });
  let refusal: FileRefusal | null = null;
  const stop = (found: FileRefusal): never => {
    refusal = found;
    throw new Stop();
  };
  let closing = false;

  parser.on('error', () =>
    stop({ refused: closing ? 'incomplete-file' : 'damaged-file', params: { kind: 'SVG' } }),
  );
  parser.on('doctype', (doctype) => {
    // Entities are defined in an internal subset; a document type without one is dropped.
    if (doctype.includes('[')) stop({ refused: 'entities-in-drawing', params: {} });
  });
  parser.on('processinginstruction', ({ target }) => {
    if (target === 'xml-stylesheet') reader.dropped.external++;
  });
  parser.on('opentag', (tag) => {
    const found = reader.open(tag);
    if (found !== null) stop(found);
  });
  parser.on('text', (part) => reader.text(part));
  parser.on('cdata', (part) => reader.text(part));
  parser.on('closetag', () => {
    const found = reader.close();
    if (found !== null) stop(found);
  });

  try {
    parser.write(text);
    closing = true;
    parser.close();
  } catch (error) {
    if (refusal !== null) return refusal;
    if (error instanceof Stop) throw error;
    return { refused: 'damaged-file', params: { kind: 'SVG' } };
  }
  if (reader.root === null) return { refused: 'damaged-file', params: { kind: 'SVG' } };
  return { root: reader.root, rules: reader.rules, dropped: reader.dropped };
}

class Stop extends Error {}

class DrawingReader {
  root: DrawingNode | null = null;
  readonly rules: StyleRule[] = [];
  readonly dropped: Dropped = { external: 0, active: 0 };

  /** one entry per open tag: the node, or null inside a dropped element. */
  readonly #open: (DrawingNode | null)[] = [];
  #elements = 0;
  #textCharacters = 0;

  open(tag: SaxesTagNS): FileRefusal | null {
    this.#elements++;
    if (this.#elements > SVG_LIMITS.elements)
      return tooComplex('elements', this.#elements, SVG_LIMITS.elements);
    if (this.#open.length >= SVG_LIMITS.depth)
      return tooComplex('depth', this.#open.length + 1, SVG_LIMITS.depth);

    const parent = this.#open.at(-1);
    if (parent === null) {
      this.#countDropped(tag);
      this.#open.push(null);
      return null;
    }
    const known = tag.uri === SVG_SPACE || tag.uri === '';
    if (!known || !ALLOWED_ELEMENTS.has(tag.local)) {
      if (known && ACTIVE_ELEMENTS.has(tag.local)) this.dropped.active++;
      this.#countDropped(tag);
      this.#open.push(null);
      return null;
    }
    // A link is replaced by its content.
    const inText = parent !== undefined && TEXT_ELEMENTS.has(parent.name);
    const name = tag.local === 'a' ? (inText ? 'tspan' : 'g') : tag.local;
    const node: DrawingNode = { name, attributes: this.#attributes(tag), children: [] };
    if (parent === undefined) this.root = node;
    else parent.children.push(node);
    this.#open.push(node);
    return null;
  }

  /** Counts external resources of a dropped element, which the customer will miss. */
  #countDropped(tag: SaxesTagNS): void {
    if (tag.local === 'a') return;
    for (const { local, value } of Object.values(tag.attributes))
      if (ADDRESS_ATTRIBUTES.has(local) && EXTERNAL_URL.test(value)) this.dropped.external++;
  }

  text(part: string): void {
    const node = this.#open.at(-1);
    if (node === null || node === undefined) return;
    if (!TEXT_ELEMENTS.has(node.name)) return;
    node.children.push(part);
    if (node.name !== 'style') this.#textCharacters += part.length;
  }

  close(): FileRefusal | null {
    const node = this.#open.pop();
    if (this.#textCharacters > SVG_LIMITS.textCharacters)
      return tooComplex('text', this.#textCharacters, SVG_LIMITS.textCharacters);
    if (node?.name === 'style') {
      const sheet = cleanStyleSheet(node.children.join(''), this.dropped);
      node.children.splice(0, node.children.length, ...(sheet.text === '' ? [] : [sheet.text]));
      node.attributes.clear();
      this.rules.push(...sheet.rules);
      if (this.rules.length > SVG_LIMITS.styleRules)
        return tooComplex('styles', this.rules.length, SVG_LIMITS.styleRules);
    }
    return null;
  }

  #attributes(tag: SaxesTagNS): Map<string, string> {
    const kept = new Map<string, string>();
    for (const { prefix, local, uri, value } of Object.values(tag.attributes)) {
      if (uri !== '' && uri !== XLINK_SPACE && prefix !== 'xml') continue;
      const name = prefix === 'xml' ? `xml:${local}` : local;
      if (name === 'href') this.#href(tag.local, value, kept);
      else if (uri === XLINK_SPACE) continue;
      else if (/^on/i.test(name)) this.dropped.active++;
      else if (name === 'style') {
        const clean = cleanDeclarations(value, this.dropped);
        if (clean !== '') kept.set('style', clean);
      } else if (GEOMETRY_ATTRIBUTES.has(name) || ALLOWED_ATTRIBUTES.has(name)) {
        if (!/url\s*\(|javascript:|data:/i.test(value)) kept.set(name, value);
      } else if (ALLOWED_PROPERTIES.has(name)) {
        const clean = cleanValue(value, this.dropped);
        if (clean !== null) kept.set(name, clean);
      }
    }
    return kept;
  }

  #href(element: string, value: string, kept: Map<string, string>): void {
    const address = value.trim();
    if (LOCAL_HREF_ELEMENTS.has(element) && address.startsWith('#')) kept.set('href', address);
    else if (element === 'image' && /^data:/i.test(address)) kept.set('href', address);
    else if (/^javascript:/i.test(address.replace(/\s/g, ''))) this.dropped.active++;
    // The target of a link is never drawn.
    else if (element !== 'a' && address !== '') this.dropped.external++;
  }
}

/** Attributes of SVG and HTML that name a resource. */
const ADDRESS_ATTRIBUTES = new Set(['href', 'src', 'srcset', 'data', 'poster']);
/** Anything but a local reference, a data URL, a script, or nothing. */
const EXTERNAL_URL = /^\s*(?!#|data:|javascript:|\s|$)/i;

const TEXT_ELEMENTS = new Set(['text', 'tspan', 'textPath', 'style']);

/** Attributes named like CSS properties but in SVG's own syntax (lists of lengths, transform lists). */
const GEOMETRY_ATTRIBUTES = new Set([
  'x',
  'y',
  'width',
  'height',
  'cx',
  'cy',
  'r',
  'rx',
  'ry',
  'transform',
  'enable-background',
]);
