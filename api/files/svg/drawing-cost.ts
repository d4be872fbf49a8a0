import { SVG_LIMITS } from '../limits.ts';
import { type FileRefusal, tooComplex } from '../refusal.ts';
import type { Cascade } from './cascade.ts';
import { type DrawingNode, walk } from './drawing-node.ts';

/** What drawing it takes, found before anything is drawn. */
export type DrawingCost = {
  /** elements drawn once every reference is followed. */
  readonly shown: number;
  /** most pictures of the whole page that must be kept at once: groups with opacity, masks, filter results. */
  readonly layers: number;
};

/** Properties that every shape beneath an element inherits. */
const INHERITED = new Set(['fill', 'stroke', 'marker', 'marker-start', 'marker-mid', 'marker-end']);

/** Referring to these costs nothing worth counting. */
const CHEAP = new Set(['linearGradient', 'radialGradient', 'stop']);

/**
 * Follows every reference of a drawing and adds up what is shown. Trees of `use` double with each level, and rings never
 * end; both are found here in time linear in the file.
 */
export function costOf(root: DrawingNode, cascade: Cascade): DrawingCost | FileRefusal {
  const byId = new Map<string, DrawingNode>();
  for (const node of walk(root)) {
    const id = node.attributes.get('id');
    if (id !== undefined && !byId.has(id)) byId.set(id, node);
  }
  return new CostCounter(byId, cascade).count(root);
}

type Known = DrawingCost & { readonly own: number };

class CostCounter {
  readonly #byId: ReadonlyMap<string, DrawingNode>;
  readonly #cascade: Cascade;
  readonly #known = new Map<DrawingNode, Known>();
  readonly #underway = new Set<DrawingNode>();
  #refusal: FileRefusal | null = null;

  constructor(byId: ReadonlyMap<string, DrawingNode>, cascade: Cascade) {
    this.#byId = byId;
    this.#cascade = cascade;
  }

  count(root: DrawingNode): DrawingCost | FileRefusal {
    const { shown, layers } = this.#costOf(root, 0);
    if (this.#refusal !== null) return this.#refusal;
    return { shown, layers };
  }

  #costOf(node: DrawingNode, depth: number): Known {
    const known = this.#known.get(node);
    if (known !== undefined) return known;
    const nothing = { shown: 0, layers: 0, own: 0 };
    if (this.#refusal !== null) return nothing;
    if (this.#underway.has(node)) return this.#refuse(tooComplex('ring', 0, 0));
    // Children nest within the limit on depth; references may add as much again.
    if (depth > 2 * SVG_LIMITS.depth) return this.#refuse(tooComplex('depth', depth, 2 * SVG_LIMITS.depth));

    this.#underway.add(node);
    let shown = 1;
    let own = 1;
    let layers = 0;
    for (const child of node.children) {
      if (typeof child === 'string') continue;
      const cost = this.#costOf(child, depth + 1);
      shown += cost.shown;
      own += cost.own;
      layers = Math.max(layers, cost.layers);
    }
    for (const { property, id } of this.#cascade.referencesOf(node)) {
      const target = this.#byId.get(id);
      if (target === undefined || CHEAP.has(target.name)) continue;
      const cost = this.#costOf(target, depth + 1);
      shown += cost.shown * (INHERITED.has(property) ? own : 1);
      layers = Math.max(layers, cost.layers);
    }
    layers += this.#ownLayers(node);
    this.#underway.delete(node);

    if (shown > SVG_LIMITS.shownElements)
      return this.#refuse(tooComplex('shown-elements', shown, SVG_LIMITS.shownElements));
    const cost = { shown, layers, own };
    this.#known.set(node, cost);
    return cost;
  }

  #ownLayers(node: DrawingNode): number {
    if (node.name === 'filter') {
      const primitives = node.children.filter((child) => typeof child !== 'string').length;
      if (primitives > SVG_LIMITS.filterPrimitives)
        this.#refuse(tooComplex('filter', primitives, SVG_LIMITS.filterPrimitives));
      return primitives + 1;
    }
    const has = (property: string, none: RegExp): boolean =>
      this.#cascade.valuesOf(node, property).some((value) => !none.test(value));
    const asksForOne =
      has('opacity', /^\s*(1|1\.0+|100%)\s*$/) ||
      has('filter', /^\s*none\s*$/) ||
      has('mask', /^\s*none\s*$/) ||
      has('mix-blend-mode', /^\s*normal\s*$/) ||
      has('isolation', /^\s*auto\s*$/);
    return asksForOne ? 1 : 0;
  }

  #refuse(refusal: FileRefusal): Known {
    this.#refusal ??= refusal;
    return { shown: 0, layers: 0, own: 0 };
  }
}
