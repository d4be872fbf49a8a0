import { checkCatalog } from '../../../src/catalog/check.ts';
import { type CompiledCatalog, compileCatalog } from '../../../src/catalog/compile.ts';
import type { CatalogInput } from '../../../src/catalog/index.ts';
import { Slip } from '../../../src/contract/index.ts';
import { amountOf } from '../../../src/pricing/amounts.ts';
import { type BillOfCost, costOf } from '../../../src/pricing/index.ts';
import type { RoutedLine, RoutedPlacement, RoutedSlip } from '../../../src/routing/routed.ts';

type Prices = CatalogInput['prices'];
type Shop = Partial<CatalogInput['shop']>;

const SHAPE = 'M0 0H600V700H0Z';

/** A tee and a tote, one method by ink with an oven that takes ten, one by sheets that gang. All figures are made up. */
export function shopOf(
  prices: Partial<Prices> = {},
  shop: Shop = {},
  more: Partial<CatalogInput> = {},
): CompiledCatalog {
  const day = [{ from: '08:00', to: '16:00' }];
  const input: CatalogInput = {
    format: 1,
    shop: {
      name: 'Bench Lane Works',
      currency: 'USD',
      timeZone: 'Europe/Paris',
      packing: { perOrderMin: 6, perPieceMin: 0.5 },
      ...shop,
    },
    blanks: [
      {
        id: 'tee',
        name: 'Tee',
        fibers: [{ fiber: 'cotton', share: '1' }],
        sizes: [
          { id: 's', name: 'S', cost: '3.00' },
          { id: 'm', name: 'M', cost: '3.00', surcharge: '1.00' },
          { id: 'xl', name: 'XL', cost: '3.50', surcharge: '2.50' },
        ],
        colors: [
          { id: 'white', name: 'White', hex: '#ffffff' },
          { id: 'black', name: 'Black', hex: '#101010', extraCost: '0.25' },
        ],
        faces: [face('front'), face('back')],
        views: [view],
      },
      {
        id: 'tote',
        name: 'Tote',
        fibers: [{ fiber: 'cotton', share: '1' }],
        sizes: [{ id: 'one', name: 'One', cost: '1.20' }],
        colors: [{ id: 'white', name: 'White', hex: '#ffffff' }],
        faces: [face('front')],
        views: [view],
      },
    ],
    finishes: [
      { id: 'plain', name: 'Plain' },
      { id: 'fine', name: 'Fine' },
    ],
    methods: [inkMethod, sheetMethod],
    stations: [
      station('jet', '6.00'),
      station('oven', '3.60'),
      station('sheet-printer', '2.40'),
      station('press', '1.20'),
    ],
    crew: { count: 2, wagePerHour: '18.00' },
    calendar: { week: { mon: day, tue: day, wed: day, thu: day, fri: day, sat: [], sun: [] } },
    deliveries: [
      { id: 'pick-up', name: 'Pick up', kind: 'pick-up', workingDays: 0 },
      { id: 'parcel', name: 'Parcel', kind: 'carrier', workingDays: 2, price: '6.90' },
    ],
    prices: {
      mode: 'list',
      list: ['tee', 'tote'].flatMap((blank) =>
        ['plain', 'fine'].map((finish) => ({
          blank,
          finish,
          breaks: [
            { from: 1, unit: '20.00' },
            { from: 12, unit: '15.00' },
            { from: 24, unit: '12.50' },
          ],
          extraPlacement: '4.00',
          name: '2.50',
        })),
      ),
      floorMargin: '0',
      tax: { rate: '0', included: false },
      ...prices,
    },
    ...more,
  };
  const { catalog, faults } = checkCatalog(input);
  if (catalog === undefined) throw new Error(`the fixture is faulty: ${JSON.stringify(faults)}`);
  return compileCatalog(catalog, 1);
}

function face(id: string): CatalogInput['blanks'][number]['faces'][number] {
  return {
    id,
    name: id,
    surface: 'flat',
    widthMm: 300,
    heightMm: 400,
    onView: { view: 'front', xMm: 300, yMm: 100 },
  };
}

const view = {
  id: 'front',
  name: 'Front',
  widthMm: 600,
  heightMm: 700,
  shapes: [{ d: SHAPE, role: 'cloth' as const }],
};

function station(id: string, ratePerHour: string): CatalogInput['stations'][number] {
  return { id, name: id, count: 1, surfaces: ['flat'], bedWidthMm: 400, bedHeightMm: 500, ratePerHour };
}

const common = {
  limits: {
    surfaces: ['flat' as const],
    thinnestLineMm: 0.3,
    thinnestGapMm: 0.3,
    leastDpi: 72,
    goodDpi: 150,
    softAlpha: 'prints' as const,
  },
  qualities: { hand: 1, gloss: 1, washLifeCycles: 40, breathability: 3 },
};

const inkMethod: CatalogInput['methods'][number] = {
  ...common,
  id: 'ink',
  name: 'Ink',
  whiteBelowLightness: 90,
  workOrder: 1,
  spoilage: '0.1',
  consumables: [
    {
      id: 'primer',
      name: 'Primer',
      unit: 'ml',
      price: '0.02',
      driver: { kind: 'per-area', perCm2: '0.01', marginMm: 10 },
    },
    {
      id: 'black',
      name: 'Black',
      unit: 'ml',
      price: '0.30',
      driver: { kind: 'per-ink', channel: 'k', laydownMlPerM2: '20' },
    },
    {
      id: 'white',
      name: 'White',
      unit: 'ml',
      price: '0.40',
      driver: { kind: 'per-ink', channel: 'w', laydownMlPerM2: '50' },
    },
    { id: 'tag', name: 'Tag', unit: 'piece', price: '0.05', driver: { kind: 'per-piece', quantity: '1' } },
    {
      id: 'liner',
      name: 'Liner',
      unit: 'piece',
      price: '0.01',
      driver: { kind: 'per-print', quantity: '2' },
    },
  ],
  steps: [
    {
      id: 'jet',
      name: 'Print',
      stations: ['jet'],
      setUpPerOrderS: 60,
      setUpPerDesignS: 120,
      per: 'print',
      perPrintS: 12,
      perCm2S: 0.02,
      whitePerCm2S: 0.04,
      crewShare: 0.5,
      onBed: true,
    },
    { id: 'dry', name: 'Dry', stations: [], waitS: 60, per: 'piece', crewShare: 0 },
    {
      id: 'bake',
      name: 'Bake',
      stations: ['oven'],
      per: 'piece',
      batchSize: 10,
      perBatchS: 360,
      crewShare: 0.1,
    },
  ],
};

const sheetMethod: CatalogInput['methods'][number] = {
  ...common,
  id: 'sheet',
  name: 'Sheet',
  whiteBelowLightness: 100,
  workOrder: 2,
  spoilage: '0.05',
  consumables: [
    {
      id: 'film',
      name: 'Film',
      unit: 'sheet',
      price: '2.00',
      driver: { kind: 'per-sheet', sheetWidthMm: 320, sheetHeightMm: 450, marginMm: 5, gapMm: 6, gang: true },
    },
    {
      id: 'toner',
      name: 'Toner',
      unit: 'ml',
      price: '0.10',
      driver: { kind: 'per-ink', channel: 'w', laydownMlPerM2: '8' },
    },
  ],
  steps: [
    {
      id: 'print-sheet',
      name: 'Print sheet',
      stations: ['sheet-printer'],
      setUpPerOrderS: 72,
      setUpPerDesignS: 18,
      per: 'sheet',
      perBatchS: 54,
      crewShare: 0.2,
    },
    {
      id: 'press-on',
      name: 'Press on',
      stations: ['press'],
      setUpPerOrderS: 36,
      per: 'print',
      perPrintS: 45,
      crewShare: 0.8,
      onBed: true,
    },
  ],
};

/** A print as a test wants it. */
export type PrintWish = {
  readonly method?: 'ink' | 'sheet';
  readonly widthMm?: number;
  readonly heightMm?: number;
  readonly design?: string;
  readonly k?: number;
  readonly w?: number;
  /** names, one per piece; makes it the line's names. */
  readonly names?: readonly string[];
};

/** A line as a test wants it: counts by size. */
export type LineWish = {
  readonly blank?: 'tee' | 'tote';
  readonly color?: 'white' | 'black';
  readonly finish?: 'plain' | 'fine';
  readonly counts: Readonly<Record<string, number>>;
  readonly prints?: readonly PrintWish[];
};

const ART = 'a'.repeat(64);

/** A routed slip, made without routing: prints of 200 x 300 mm unless told. */
export function routedOf(
  catalog: CompiledCatalog,
  wishes: readonly LineWish[],
  slip: { readonly rush?: boolean; readonly delivery?: string } = {},
): RoutedSlip {
  const lines = wishes.map((wish, index) => lineOf(catalog, wish, index));
  return {
    slip: Slip.parse({ format: 1, delivery: 'pick-up', ...slip, lines: lines.map(({ line }) => line) }),
    lines,
  };
}

/** The bill of a slip of one line, as if it cost `basis`. */
export function billOf(catalog: CompiledCatalog, routed: RoutedSlip, basis: string): BillOfCost {
  const amount = amountOf(basis);
  const bill = costOf(catalog, routed);
  return { ...bill, basis: amount, basisByLine: [amount], isAtMost: (limit) => amount <= limit };
}

function lineOf(catalog: CompiledCatalog, wish: LineWish, index: number): RoutedLine {
  const { blank } = catalog.blanks.get(wish.blank ?? 'tee')!;
  const color = blank.colors.find(({ id }) => id === (wish.color ?? 'white'))!;
  const counts = Object.entries(wish.counts).flatMap(([size, count]) => (count > 0 ? [{ size, count }] : []));
  const pieces = counts.reduce((sum, { count }) => sum + count, 0);
  const prints = wish.prints ?? [{}];
  const placements = prints.map((print, place) =>
    placementOf(catalog, print, `p${place}`, index, color.id === 'black'),
  );
  const position = { face: 'front', xMm: 0, yMm: 150, angleDeg: 0, widthMm: 200 };
  const named = prints.findIndex(({ names }) => names !== undefined);
  const texts = prints[named]?.names ?? [];
  return {
    line: {
      id: `l${index}`,
      blank: blank.id,
      color: color.id,
      counts,
      finish: wish.finish ?? 'plain',
      placements: prints.flatMap(({ names }, place) =>
        names === undefined ? [{ id: `p${place}`, artwork: ART, remedies: [], ...position }] : [],
      ),
      ...(named < 0
        ? {}
        : {
            names: {
              id: `p${named}`,
              font: 'plain',
              hex: '#000000',
              capHeightMm: 40,
              entries: texts.map((text) => ({ size: counts[0]!.size, text })),
              ...position,
            },
          }),
    },
    blank,
    color,
    finish: catalog.finishes.get(wish.finish ?? 'plain')!.finish,
    pieces,
    placements,
  };
}

function placementOf(
  catalog: CompiledCatalog,
  { method: id = 'ink', widthMm = 200, heightMm = 300, design = 'art', k = 300, w = 250, names }: PrintWish,
  name: string,
  line: number,
  white: boolean,
): RoutedPlacement {
  const method = catalog.methods[catalog.methodIndex.get(id)!]!;
  const stations = new Map(
    method.steps.flatMap((step) =>
      step.stations.length > 0 ? [[step.id, catalog.stations.get(step.stations[0]!)!] as const] : [],
    ),
  );
  return {
    id: name,
    face: catalog.blanks.get('tee')!.faces.get('front')!,
    design: `${names === undefined ? design : `names ${line} ${name}`} ${widthMm} ${id}`,
    method,
    treatments: [],
    qualities: method.qualities,
    widthMm,
    heightMm,
    boxWidthMm: widthMm,
    boxHeightMm: heightMm,
    ink: { c: 0, m: 0, y: 0, k, w: white || id === 'sheet' ? w : 0 },
    white: white || id === 'sheet',
    distinct: names === undefined ? 1 : new Set(names).size,
    stations,
  };
}
