import { SVG_LIMITS } from '../limits.ts';
import { type FileRefusal, tooComplex } from '../refusal.ts';
import type { Cascade } from './cascade.ts';
import { type DrawingNode, walk } from './drawing-node.ts';

/** Estimated cost of drawing, found before drawing. */
export type DrawingCost = {
  /** elements drawn once every reference is expanded. */
  readonly shown: number;
  /** most full-page buffers held at once: groups with opacity, masks, filter results. */
  readonly layers: number;
  /** time for all such buffers, ms per million pixels of the page, on the machine measured. */
  readonly layerMs: number;
};

/**
 * Cost of a full-page buffer, ms per million pixels. Measured with librsvg 2.63 on one core on 2026-11-25: 20 000 groups
 * with opacity, a blur, a shadow of five primitives; rounded up.
 */
const GROUP_MS = 0.15;
const MASK_MS = 6;
const PATTERN_MS = 0.3;
const BLUR_MS = 55;
const PRIMITIVE_MS = 12;
const FILTER_FUNCTION_MS = 60;
/** Parts of a filter primitive, not primitives themselves. */
const PRIMITIVE_PARTS = /^fe(MergeNode|Func[RGBA]|(Distant|Point|Spot)Light)$/;
const SLOW_PRIMITIVES = new Set([
  'feGaussianBlur',
  'feDropShadow',
  'feMorphology',
  'feConvolveMatrix',
  'feTurbulence',
]);

/** Properties that every shape inside an element inherits. */
const INHERITED = new Set(['fill', 'stroke', 'marker', 'marker-start', 'marker-mid', 'marker-end']);

/** Drawn only where they are referred to; programs write many that are not. */
const NOT_DRAWN = new Set([
  'defs',
  'symbol',
  'filter',
  'mask',
  'clipPath',
  'pattern',
  'marker',
  'linearGradient',
  'radialGradient',
]);

/** References to these cost next to nothing. */
const CHEAP = new Set(['linearGradient', 'radialGradient', 'stop']);

/**
 * Expands every reference of a drawing and sums up what is drawn. Trees of `use` double with each level, and rings never
 * end; both are found in time linear in the file.
 */
export function costOf(root: DrawingNode, cascade: Cascade): DrawingCost | FileRefusal {
  const byId = new Map<string, DrawingNode>();
  for (const node of walk(root)) {
    const id = node.attributes.get('id');
    if (id !== undefined && !byId.has(id)) byId.set(id, node);
  }
  return new CostCounter(byId, cascade).count(root);
}

type NodeCost = DrawingCost & {
  /** elements inside it in the file, itself included. */
  readonly own: number;
  /** levels from it down to the deepest element drawn. */
  readonly depth: number;
};

const NO_COST: NodeCost = { shown: 0, layers: 0, layerMs: 0, own: 0, depth: 0 };

/** References may double the nesting of the file. */
const SHOWN_DEPTH = 2 * SVG_LIMITS.depth;

class CostCounter {
  readonly #byId: ReadonlyMap<string, DrawingNode>;
  readonly #cascade: Cascade;
  readonly #costs = new Map<DrawingNode, NodeCost>();
  readonly #visiting = new Set<DrawingNode>();
  #refusal: FileRefusal | null = null;

  constructor(byId: ReadonlyMap<string, DrawingNode>, cascade: Cascade) {
    this.#byId = byId;
    this.#cascade = cascade;
  }

  count(root: DrawingNode): DrawingCost | FileRefusal {
    const { shown, layers, layerMs } = this.#costOf(root, 0);
    if (this.#refusal !== null) return this.#refusal;
    return { shown, layers, layerMs };
  }

  #costOf(node: DrawingNode, level: number): NodeCost {
    const known = this.#costs.get(node);
    if (known !== undefined) return known;
    if (this.#refusal !== null) return NO_COST;
    if (this.#visiting.has(node)) return this.#refuse(tooComplex('ring', 0, 0));
    if (level > SHOWN_DEPTH) return this.#refuse(tooComplex('depth', level, SHOWN_DEPTH));

    this.#visiting.add(node);
    let shown = 1;
    let own = 1;
    let depth = 0;
    let layers = 0;
    let layerMs = this.#ownLayerMs(node);
    for (const child of node.children) {
      if (typeof child === 'string') continue;
      const cost = this.#costOf(child, level + 1);
      if (NOT_DRAWN.has(child.name)) continue;
      shown += cost.shown;
      own += cost.own;
      depth = Math.max(depth, cost.depth);
      layers = Math.max(layers, cost.layers);
      layerMs += cost.layerMs;
    }
    for (const { property, id } of this.#cascade.referencesOf(node)) {
      const target = this.#byId.get(id);
      if (target === undefined || CHEAP.has(target.name)) continue;
      const cost = this.#costOf(target, level + 1);
      const times = INHERITED.has(property) ? own : 1;
      shown += cost.shown * times;
      depth = Math.max(depth, cost.depth);
      layers = Math.max(layers, cost.layers);
      layerMs += (cost.layerMs + (REFERENCE_MS[target.name] ?? 0)) * times;
    }
    layers += this.#ownLayers(node);
    depth++;
    this.#visiting.delete(node);

    if (depth > SHOWN_DEPTH) return this.#refuse(tooComplex('depth', depth, SHOWN_DEPTH));
    if (shown > SVG_LIMITS.shownElements)
      return this.#refuse(tooComplex('shown-elements', shown, SVG_LIMITS.shownElements));
    const cost = { shown, layers, layerMs, own, depth };
    this.#costs.set(node, cost);
    return cost;
  }

  #ownLayers(node: DrawingNode): number {
    if (node.name !== 'filter') return this.#asksForLayer(node) ? 1 : 0;
    const primitives = node.children.filter((child) => typeof child !== 'string').length;
    if (primitives > SVG_LIMITS.filterPrimitives)
      this.#refuse(tooComplex('filter', primitives, SVG_LIMITS.filterPrimitives));
    return primitives + 1;
  }

  #ownLayerMs(node: DrawingNode): number {
    if (PRIMITIVE_PARTS.test(node.name)) return 0;
    if (node.name.startsWith('fe')) return SLOW_PRIMITIVES.has(node.name) ? BLUR_MS : PRIMITIVE_MS;
    const functions = this.#cascade
      .valuesOf(node, 'filter')
      .flatMap((value) => value.match(/(?<!url)\(/gi) ?? []).length;
    return (this.#asksForLayer(node) ? GROUP_MS : 0) + functions * FILTER_FUNCTION_MS;
  }

  #asksForLayer(node: DrawingNode): boolean {
    return LAYER_PROPERTIES.some(([property, none]) =>
      this.#cascade.valuesOf(node, property).some((value) => !none.test(value)),
    );
  }

  #refuse(refusal: FileRefusal): NodeCost {
    this.#refusal ??= refusal;
    return NO_COST;
  }
}

/** Properties that need a buffer for the element, with the values that do not. */
const LAYER_PROPERTIES = [
  ['opacity', /^\s*(1|1\.0+|100%)\s*$/],
  ['filter', /^\s*none\s*$/],
  ['mask', /^\s*none\s*$/],
  ['mix-blend-mode', /^\s*normal\s*$/],
  ['isolation', /^\s*auto\s*$/],
] as const;

const REFERENCE_MS: Readonly<Record<string, number>> = { mask: MASK_MS, pattern: PATTERN_MS };
