import fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import type { CatalogInput } from '../../../../src/catalog/index.ts';
import type { ArtworkFacts, QuoteRefusal, Reason } from '../../../../src/contract/index.ts';
import { ART, factsWith, type LineInput, planOf, quoted } from '../../../fixtures/quotes.ts';
import { addTeeOf, compiled } from '../../../fixtures/shop.ts';

// Much work, whose time depends on the machine.
vi.setConfig({ testTimeout: 300_000 });

/** A shop that refuses for every kind of reason: bounds on cloth, counts, soft alpha and fibers, a cap with a flat strap. */
function picky(catalog: CatalogInput): void {
  const [spray, sheet] = catalog.methods;
  spray!.limits.clothLightness = { least: 30, most: 100 };
  spray!.limits.pieces = { least: 6, most: 200 };
  spray!.limits.leastDpi = 100;
  sheet!.limits.softShareMost = 0.2;
  sheet!.limits.pieces = { least: 1, most: 150 };
  const [, cap] = catalog.blanks;
  cap!.faces.push({
    id: 'strap',
    name: 'Strap',
    surface: 'flat',
    widthMm: 100,
    heightMm: 50,
    onView: { view: 'front', xMm: 120, yMm: 10 },
  });
  addTeeOf(catalog, 'sport-tee', 'polyester');
}

const shop = compiled(picky);
const plan = planOf(shop);

/** A line of one placement and the facts of its artwork. */
type Attempt = { readonly line: LineInput; readonly facts: ArtworkFacts };

const faces = { tee: ['front', 'back'], 'sport-tee': ['front', 'back'], cap: ['panel', 'brim', 'strap'] };
type Blank = keyof typeof faces;

const anyAttempt = fc.constantFrom<Blank>('tee', 'sport-tee', 'cap').chain((blank) =>
  fc
    .record({
      color: blank === 'cap' ? fc.constant('navy') : fc.constantFrom('white', 'gray', 'black'),
      size: blank === 'cap' ? fc.constant('one') : fc.constantFrom('s', 'm', 'xl'),
      count: fc.oneof(fc.integer({ min: 1, max: 8 }), fc.integer({ min: 140, max: 260 })),
      finish: fc.constantFrom('standard', 'soft', 'matte', 'airy'),
      method: fc.constantFrom(undefined, undefined, undefined, 'spray', 'sheet'),
      face: fc.constantFrom(...faces[blank]),
      xMm: fc.oneof(fc.constant(0), fc.integer({ min: -260, max: 260 })),
      yMm: fc.oneof(fc.constant(blank === 'cap' ? 13 : 190), fc.integer({ min: -60, max: 470 })),
      angleDeg: fc.constantFrom(0, 0, 30, 90),
      widthMm: fc.oneof(fc.integer({ min: 12, max: 60 }), fc.integer({ min: 60, max: 420 })),
      px: fc.constantFrom(300, 900, 2000),
      linePx: fc.option(fc.integer({ min: 1, max: 12 }), { nil: undefined }),
      gapPx: fc.option(fc.integer({ min: 1, max: 12 }), { nil: undefined }),
      deepSoftShare: fc.constantFrom(0, 0, 0.5),
    })
    .map(({ color, size, count, finish, method, px, linePx, gapPx, deepSoftShare, ...at }): Attempt => {
      const line: LineInput = {
        id: 'l',
        blank,
        color,
        counts: [{ size, count }],
        finish,
        ...(method === undefined ? {} : { method }),
        placements: [{ id: 'p', artwork: ART, ...at }],
      };
      const thin = (wide: number | undefined) => (wide === undefined ? [] : thinOf(wide));
      return {
        line,
        facts: factsWith({ thinLines: thin(linePx), thinGaps: thin(gapPx), deepSoftShare }, px),
      };
    }),
);

function thinOf(px: number): ArtworkFacts['thinLines'] {
  return [{ px, box: { left: 0, top: 0, width: 1, height: 1 } }];
}

type Answer = NonNullable<ReturnType<typeof quoted>['answer']>;

const quotedAnswer = (current: Attempt): Answer =>
  quoted([current.line], {
    catalog: shop,
    plan,
    brief: true,
    artwork: () => ({ facts: current.facts }),
    slip: {},
  }).answer!;

/** The slip and facts after a customer follows a suggestion. */
function takeUp({ line, facts }: Attempt, { code, params }: Reason): Attempt {
  const [placement] = line.placements!;
  const placed = (change: Partial<typeof placement>): Attempt => ({
    line: { ...line, placements: [{ ...placement!, ...change }] },
    facts,
  });
  const number = (name: string): number => params[name] as number;
  const text = (name: string): string => params[name] as string;
  const mmPerPx = placement!.widthMm / facts.inkBox!.width;
  switch (code) {
    case 'make-smaller':
      return placed({ widthMm: number('widthMm') });
    case 'move-onto-face':
      return placed({ xMm: number('xMm'), yMm: number('yMm') });
    case 'use-other-face': {
      const { faces: all } = shop.blanks.get(line.blank)!;
      const face = all.get(text('face'))!;
      const [size] = line.counts;
      return placed({ face: face.id, xMm: 0, yMm: (face.areaBySize[size!.size] ?? face).heightMm / 2 });
    }
    case 'use-other-finish':
      return { line: { ...line, finish: text('finish') }, facts };
    case 'use-other-color':
      return { line: { ...line, color: text('color') }, facts };
    case 'use-other-blank': {
      const { blank, faces: all } = shop.blanks.get(text('blank'))!;
      const face = all.get(placement!.face) ?? blank.faces[0]!;
      return {
        line: {
          ...line,
          blank: blank.id,
          color: blank.colors.find(({ id }) => id === line.color)?.id ?? blank.colors[0]!.id,
          counts: line.counts.map(({ size, count }) => ({
            size: blank.sizes.find(({ id }) => id === size)?.id ?? blank.sizes[0]!.id,
            count,
          })),
          placements: [{ ...placement!, face: face.id }],
        },
        facts,
      };
    }
    case 'more-pieces':
    case 'fewer-pieces':
      return { line: { ...line, counts: [{ ...line.counts[0]!, count: number('pieces') }] }, facts };
    case 'thicken-lines':
      return { line, facts: { ...facts, thinLines: thinOf(number('toMm') / mmPerPx + 1e-9) } };
    case 'widen-gaps':
      return { line, facts: { ...facts, thinGaps: thinOf(number('toMm') / mmPerPx + 1e-9) } };
    case 'firm-up-soft-alpha':
      return { line, facts: { ...facts, deepSoftShare: 0 } };
    case 'sharper-file': {
      const times = number('widthPx') / facts.inkBox!.width;
      const finer = (all: ArtworkFacts['thinLines']) => all.map((each) => ({ ...each, px: each.px * times }));
      return {
        line,
        facts: {
          ...factsWith({}, number('widthPx')),
          thinLines: finer(facts.thinLines),
          thinGaps: finer(facts.thinGaps),
          deepSoftShare: facts.deepSoftShare,
        },
      };
    }
    case 'method-not-asked': {
      const { method, ...free } = line;
      return { line: free, facts };
    }
    default:
      throw new Error(`there is no way to take up "${code}"`);
  }
}

/**
 * How many reasons there are against the method with the fewest. Leaves out what no single change may solve: a cap that
 * comes in one color, and a print that is too large but whose lines get too thin when it is smaller.
 */
function fewestFaults({ reasons }: QuoteRefusal, { facts }: Attempt): number {
  const place = reasons.filter(({ code, params }) => code !== 'no-method-fits' && !('method' in params));
  if (place.length > 0) return Number.POSITIVE_INFINITY;
  const byMethod = new Map<unknown, Set<string>>();
  for (const { code, params } of reasons) {
    if (!('method' in params)) continue;
    byMethod.set(params['method'], (byMethod.get(params['method']) ?? new Set()).add(code));
  }
  const fine = facts.thinLines.length + facts.thinGaps.length > 0;
  const mendable = [...byMethod.values()].filter(
    (codes) =>
      !codes.has('cloth-too-dark') &&
      !(fine && (codes.has('too-large-for-bed') || codes.has('too-large-for-sheet'))),
  );
  return Math.min(...mendable.map(({ size }) => size));
}

describe('the nearest change', () => {
  it('makes a refused placement possible, by itself or one after another where several things are wrong', () => {
    const alone = new Set<string>();
    let refused = 0;
    fc.assert(
      fc.property(anyAttempt, (first) => {
        let current = first;
        let answer: Answer = quotedAnswer(current);
        if (answer.kind === 'quote') return;
        refused++;
        const taken: string[] = [];
        while (answer.kind === 'refusal') {
          const refusal: QuoteRefusal = answer;
          // Of several changes the first that is enough by itself, else the nearest.
          let next:
            | { readonly change: Reason; readonly attempt: Attempt; readonly answer: Answer }
            | undefined;
          let enough: typeof next;
          for (const change of refusal.nearest) {
            const changed = takeUp(current, change);
            const outcome = { change, attempt: changed, answer: quotedAnswer(changed) };
            next ??= outcome;
            if (outcome.answer.kind !== 'quote') continue;
            enough = outcome;
            break;
          }
          next = enough ?? next;
          const details = () =>
            JSON.stringify({ first: first.line, taken, reasons: refusal.reasons, nearest: refusal.nearest });
          if (current.line.method === undefined && fewestFaults(refusal, current) === 1)
            expect(enough, `no offer is enough: ${details()}`).toBeDefined();
          expect(next, `nothing is offered: ${details()}`).toBeDefined();
          taken.push(next!.change.code);
          if (taken.length === 1 && enough !== undefined) alone.add(enough.change.code);
          expect(taken.length, `leads nowhere: ${details()}`).toBeLessThan(20);
          current = next!.attempt;
          answer = next!.answer;
        }
      }),
      { numRuns: 150 },
    );
    expect(refused).toBeGreaterThan(60);
    expect(alone.size).toBeGreaterThan(5);
  });
});
