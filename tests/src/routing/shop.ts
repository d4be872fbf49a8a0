import { createHash } from 'node:crypto';
import { checkCatalog } from '../../../src/catalog/check.ts';
import { type CompiledCatalog, compileCatalog } from '../../../src/catalog/compile.ts';
import type { CatalogInput } from '../../../src/catalog/index.ts';
import { shopSpecOf } from '../../../src/catalog/shop-spec.ts';
import { type ArtworkFacts, Slip, type SlipInput } from '../../../src/contract/index.ts';
import { buildPlan, compileShopHours, type Plan } from '../../../src/promise/index.ts';
import { type QuoteInput, type QuoteResult, quote } from '../../../src/quote/quote.ts';

type MethodInput = CatalogInput['methods'][number];

/** Ink sprayed into the cloth: flat faces, white beneath on darker cloth, soft; much set-up per design. */
export const spray: MethodInput = {
  id: 'spray',
  name: 'Spray',
  limits: {
    surfaces: ['flat'],
    fibers: { anyOf: ['cotton'], leastShare: '0.5' },
    thinnestLineMm: 0.3,
    thinnestGapMm: 0.3,
    leastDpi: 72,
    goodDpi: 150,
    softAlpha: 'prints',
  },
  qualities: { hand: 0.5, gloss: 0, washLifeCycles: 45, breathability: 4 },
  whiteBelowLightness: 90,
  consumables: [
    {
      id: 'primer',
      name: 'Primer',
      unit: 'ml',
      price: '0.02',
      driver: { kind: 'per-area', perCm2: '0.02', marginMm: 10 },
    },
    ...(['c', 'm', 'y', 'k'] as const).map((channel) => ({
      id: `ink-${channel}`,
      name: `Ink ${channel}`,
      unit: 'ml',
      price: '0.30',
      driver: { kind: 'per-ink' as const, channel, laydownMlPerM2: '20' },
    })),
    {
      id: 'ink-w',
      name: 'White',
      unit: 'ml',
      price: '0.28',
      driver: { kind: 'per-ink', channel: 'w', laydownMlPerM2: '60' },
    },
  ],
  steps: [
    {
      id: 'prime',
      name: 'Prime',
      stations: ['cabinet'],
      setUpPerOrderS: 120,
      like: ['method'],
      per: 'print',
      perPrintS: 18,
      crewShare: 0.6,
    },
    {
      id: 'print',
      name: 'Print',
      stations: ['sprayer'],
      setUpPerOrderS: 60,
      setUpPerDesignS: 240,
      per: 'print',
      perPrintS: 7,
      perCm2S: 0.02,
      whitePerCm2S: 0.05,
      crewShare: 0.4,
      onBed: true,
    },
    {
      id: 'cure',
      name: 'Cure',
      stations: ['tunnel'],
      per: 'piece',
      batchSize: 12,
      perBatchS: 360,
      crewShare: 0.15,
    },
  ],
  spoilage: '0.02',
  workOrder: 10,
};

/** Toner on sheets, pressed on: any surface, a felt layer, little set-up, one sheet's part per print. */
export const sheet: MethodInput = {
  id: 'sheet',
  name: 'Sheet',
  limits: {
    surfaces: ['flat', 'curved', 'cylinder'],
    thinnestLineMm: 0.5,
    thinnestGapMm: 0.5,
    leastDpi: 72,
    goodDpi: 150,
    softAlpha: 'lost',
    largestSolidMm: 80,
  },
  qualities: { hand: 3, gloss: 3, washLifeCycles: 35, breathability: 1 },
  treatments: [
    {
      id: 'matting',
      name: 'Matting',
      qualities: { hand: 2.5, gloss: 1, washLifeCycles: 36, breathability: 1 },
      steps: [
        {
          id: 'mat',
          name: 'Mat',
          stations: ['press', 'cap-press', 'mug-press'],
          per: 'print',
          perPrintS: 30,
          crewShare: 0.7,
          onBed: true,
        },
      ],
    },
    {
      id: 'screening',
      name: 'Screening',
      qualities: { hand: 2, gloss: 2, washLifeCycles: 40, breathability: 3 },
      screen: { tint: 0.7, cellMm: 1.2 },
    },
  ],
  whiteBelowLightness: 100,
  consumables: [
    {
      id: 'film',
      name: 'Film',
      unit: 'sheet',
      price: '2.40',
      driver: { kind: 'per-sheet', sheetWidthMm: 320, sheetHeightMm: 450, marginMm: 5, gapMm: 6, gang: true },
    },
    {
      id: 'toner',
      name: 'Toner',
      unit: 'ml',
      price: '0.09',
      driver: { kind: 'per-ink', channel: 'w', laydownMlPerM2: '8' },
    },
  ],
  steps: [
    {
      id: 'print-sheet',
      name: 'Print',
      stations: ['toner'],
      setUpPerOrderS: 60,
      setUpPerDesignS: 20,
      per: 'sheet',
      perBatchS: 55,
      crewShare: 0.2,
    },
    {
      id: 'press-on',
      name: 'Press',
      stations: ['press', 'cap-press', 'mug-press'],
      setUpPerOrderS: 60,
      like: ['temperature'],
      per: 'print',
      perPrintS: 75,
      crewShare: 0.9,
      onBed: true,
      settings: { temperatureC: 150 },
    },
    { id: 'cool', name: 'Cool', stations: [], waitS: 120, per: 'piece', crewShare: 0 },
  ],
  spoilage: '0.03',
  workOrder: 20,
};

const day = [{ from: '08:00', to: '17:00' }];
const square = 'M0 0H10V10Z';

/** A catalog of our own making: a tee, a cap and a mug, two methods, four finishes. */
export function shopInput(): CatalogInput {
  const finishes = [
    { id: 'standard', name: 'Standard' },
    { id: 'soft', name: 'Soft', bounds: { handMost: 1 } },
    { id: 'matte', name: 'Matte', bounds: { glossMost: 1 } },
    { id: 'airy', name: 'Airy', bounds: { breathabilityLeast: 3 } },
  ];
  const blanks: CatalogInput['blanks'] = [
    {
      id: 'tee',
      name: 'Tee',
      fibers: [{ fiber: 'cotton', share: '1' }],
      sizes: [
        { id: 's', name: 'S', cost: '3.00' },
        { id: 'm', name: 'M', cost: '3.00' },
        { id: 'xl', name: 'XL', cost: '3.50', surcharge: '2.00' },
      ],
      colors: [
        { id: 'white', name: 'White', hex: '#ffffff' },
        { id: 'gray', name: 'Gray', hex: '#999999' },
        { id: 'black', name: 'Black', hex: '#111111' },
      ],
      faces: [
        {
          id: 'front',
          name: 'Front',
          surface: 'flat',
          widthMm: 350,
          heightMm: 450,
          areaBySize: { s: { widthMm: 300, heightMm: 380 } },
          onView: { view: 'front', xMm: 300, yMm: 100 },
          keepOuts: [
            { id: 'hem', name: 'Hem', kind: 'seam', xMm: -175, yMm: 430, widthMm: 350, heightMm: 20 },
          ],
        },
        {
          id: 'back',
          name: 'Back',
          surface: 'flat',
          widthMm: 350,
          heightMm: 450,
          onView: { view: 'front', xMm: 300, yMm: 100 },
        },
      ],
      views: [
        { id: 'front', name: 'Front', widthMm: 600, heightMm: 700, shapes: [{ d: square, role: 'cloth' }] },
      ],
    },
    {
      id: 'cap',
      name: 'Cap',
      fibers: [{ fiber: 'cotton', share: '1' }],
      sizes: [{ id: 'one', name: 'One', cost: '3.40' }],
      colors: [{ id: 'navy', name: 'Navy', hex: '#1f2d4d' }],
      faces: [
        {
          id: 'panel',
          name: 'Panel',
          surface: 'curved',
          widthMm: 110,
          heightMm: 58,
          onView: { view: 'front', xMm: 120, yMm: 50 },
        },
        {
          id: 'brim',
          name: 'Brim',
          surface: 'curved',
          widthMm: 120,
          heightMm: 26,
          onView: { view: 'front', xMm: 120, yMm: 120 },
        },
      ],
      views: [
        { id: 'front', name: 'Front', widthMm: 240, heightMm: 210, shapes: [{ d: square, role: 'cloth' }] },
      ],
    },
    {
      id: 'mug',
      name: 'Mug',
      fibers: [{ fiber: 'ceramic', share: '1' }],
      sizes: [{ id: 'one', name: 'One', cost: '1.90' }],
      colors: [{ id: 'white', name: 'White', hex: '#fafaf7' }],
      faces: [
        {
          id: 'wrap',
          name: 'Wrap',
          surface: 'cylinder',
          widthMm: 200,
          heightMm: 72,
          diameterMm: 82,
          onView: { view: 'wrap', xMm: 160, yMm: 30 },
        },
      ],
      views: [
        { id: 'wrap', name: 'Wrap', widthMm: 320, heightMm: 135, shapes: [{ d: square, role: 'cloth' }] },
      ],
      use: ['drinkware'],
    },
  ];
  return {
    format: 1,
    shop: { name: 'Test Press', currency: 'USD', timeZone: 'Europe/Lisbon' },
    blanks,
    finishes,
    methods: [structuredClone(spray), structuredClone(sheet)],
    stations: [
      {
        id: 'cabinet',
        name: 'Cabinet',
        count: 1,
        surfaces: ['flat'],
        bedWidthMm: 500,
        bedHeightMm: 600,
        ratePerHour: '1.00',
      },
      {
        id: 'sprayer',
        name: 'Sprayer',
        count: 1,
        surfaces: ['flat'],
        bedWidthMm: 340,
        bedHeightMm: 440,
        bedBySize: { s: { widthMm: 280, heightMm: 360 } },
        ratePerHour: '5.00',
      },
      {
        id: 'tunnel',
        name: 'Tunnel',
        count: 1,
        surfaces: ['flat'],
        bedWidthMm: 600,
        bedHeightMm: 2000,
        ratePerHour: '2.40',
      },
      {
        id: 'toner',
        name: 'Toner printer',
        count: 1,
        surfaces: ['flat'],
        bedWidthMm: 330,
        bedHeightMm: 480,
        ratePerHour: '2.40',
      },
      {
        id: 'press',
        name: 'Press',
        count: 2,
        surfaces: ['flat'],
        bedWidthMm: 400,
        bedHeightMm: 500,
        ratePerHour: '1.10',
      },
      {
        id: 'cap-press',
        name: 'Cap press',
        count: 1,
        surfaces: ['curved'],
        bedWidthMm: 140,
        bedHeightMm: 80,
        ratePerHour: '0.90',
      },
      {
        id: 'mug-press',
        name: 'Mug press',
        count: 1,
        surfaces: ['cylinder'],
        bedWidthMm: 230,
        bedHeightMm: 100,
        ratePerHour: '0.90',
      },
    ],
    crew: { count: 2, wagePerHour: '21.00' },
    calendar: { week: { mon: day, tue: day, wed: day, thu: day, fri: day, sat: [], sun: [] } },
    deliveries: [
      { id: 'pick-up', name: 'Pick up', kind: 'pick-up', workingDays: 0 },
      { id: 'parcel', name: 'Parcel', kind: 'carrier', workingDays: 2, price: '6.00' },
    ],
    prices: {
      mode: 'list',
      list: blanks.flatMap((blank) =>
        finishes.map((finish) => ({
          blank: blank.id,
          finish: finish.id,
          breaks: [
            { from: 1, unit: finish.id === 'soft' ? '25.00' : '20.00' },
            { from: 12, unit: finish.id === 'soft' ? '20.00' : '16.00' },
            { from: 48, unit: finish.id === 'soft' ? '15.00' : '12.00' },
          ],
          extraPlacement: '5.00',
          name: '3.00',
        })),
      ),
      floorMargin: '0.1',
      rush: { fee: '10.00', share: '0.2' },
      tax: { rate: '0.1', included: false },
    },
  };
}

/** One more blank, as the first but all of one fiber, at its prices. */
export function addTeeOf(catalog: CatalogInput, id: string, fiber: string): void {
  const tee = catalog.blanks[0]!;
  catalog.blanks.push({ ...structuredClone(tee), id, fibers: [{ fiber, share: '1' }] });
  catalog.prices.list!.push(
    ...catalog.prices.list!.filter(({ blank }) => blank === tee.id).map((entry) => ({ ...entry, blank: id })),
  );
}

/** The shop's catalog, changed as the test wants it, compiled. Fails loudly when the change made it unsound. */
export function compiled(change: (catalog: CatalogInput) => void = () => {}, version = 1): CompiledCatalog {
  const input = shopInput();
  change(input);
  const checked = checkCatalog(input);
  if (checked.faults !== undefined) throw new Error(JSON.stringify(checked.faults, null, 1));
  return compileCatalog(checked.catalog, version);
}

/** Facts of a square artwork of one ink color, all of its canvas inked, without anything thin. */
export function factsWith(change: Partial<ArtworkFacts> = {}, px = 2000): ArtworkFacts {
  const area = px * px;
  return {
    version: 1,
    widthPx: px,
    heightPx: px,
    inkBox: { left: 0, top: 0, width: px, height: px },
    opaqueShare: 1,
    softShare: 0,
    clearShare: 0,
    deepSoftShare: 0,
    deepSoftBox: null,
    colors: [
      {
        hex: '#c03030',
        alphaSum: area / 2,
        cSum: 0,
        mSum: 0.4 * area,
        ySum: 0.4 * area,
        kSum: 0.03 * area,
        wSum: area / 2,
      },
    ],
    inkColorCount: 1,
    thinLines: [],
    thinGaps: [],
    largestSolid: null,
    background: null,
    lightRim: null,
    edgeColors: [],
    outOfGamut: { share: 0, colors: [], box: null },
    ...change,
  };
}

export const ART = 'a'.repeat(64);
/** Wednesday, 2 September 2026, 09:00 in Lisbon. */
export const NOW = Date.parse('2026-09-02T08:00:00Z') / 1000;

/** An empty plan of a catalog's shop. */
export function planOf(catalog: CompiledCatalog, days = 120): Plan {
  return buildPlan(compileShopHours(shopSpecOf(catalog.catalog), '2026-09-01', days), []);
}

export const hash = (text: string): string => createHash('sha256').update(text).digest('hex');

export type LineInput = SlipInput['lines'][number];

/** A line of tees with one print on the front. */
export function tees(change: Partial<LineInput> = {}): LineInput {
  return {
    id: 'tees',
    blank: 'tee',
    color: 'black',
    counts: [{ size: 'm', count: 10 }],
    placements: [{ id: 'p', face: 'front', artwork: ART, xMm: 0, yMm: 180, widthMm: 200 }],
    finish: 'standard',
    ...change,
  };
}

/** A line of caps with one print on the panel. */
export function caps(change: Partial<LineInput> = {}): LineInput {
  return {
    id: 'caps',
    blank: 'cap',
    color: 'navy',
    counts: [{ size: 'one', count: 5 }],
    placements: [{ id: 'p', face: 'panel', artwork: ART, xMm: 0, yMm: 29, widthMm: 45 }],
    finish: 'standard',
    ...change,
  };
}

export function slipOf(lines: LineInput[], change: Partial<SlipInput> = {}): Slip {
  return Slip.parse({ format: 1, lines, delivery: 'pick-up', ...change });
}

/** Quotes lines at the shop, everything else as usual unless given. */
export function quoted(
  lines: LineInput[],
  given: Partial<Omit<QuoteInput, 'slip'>> & { readonly slip?: Partial<SlipInput> } = {},
): QuoteResult {
  const { slip, ...rest } = given;
  const catalog = given.catalog ?? compiled();
  return quote({
    artwork: () => ({ facts: factsWith() }),
    plan: planOf(catalog),
    planVersion: 7,
    now: NOW,
    hash,
    ...rest,
    catalog,
    slip: slipOf(lines, slip),
  });
}
