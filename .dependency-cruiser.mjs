/** Which file may import what. Run by `npm run check`; tests/house/checks/imports.test.ts plants faults it must find. */
const purePackages = ['zod', 'decimal\\.js', 'temporal-polyfill', 'temporal-spec'];

/** Where a package lives once resolved, whatever its version or its own entry file. */
const inPackages = (names) => `(^|/)node_modules/(${names.join('|')})/`;

/**
 * The layers of the core, lowest first: a folder may import those listed beside it and no other. Files directly in
 * `src` are helpers that every folder may use.
 */
const SRC = {
  contract: [],
  artwork: ['contract'],
  promise: ['contract'],
  catalog: ['contract', 'artwork', 'promise'],
  routing: ['contract', 'artwork', 'promise', 'catalog'],
  production: ['contract', 'artwork', 'catalog', 'routing'],
  pricing: ['contract', 'catalog', 'routing', 'production'],
  quote: ['contract', 'artwork', 'promise', 'catalog', 'routing', 'production', 'pricing'],
};

const SRC_PROMISE = {
  calendar: [],
  plan: ['calendar'],
  insert: ['calendar', 'plan'],
  replan: ['calendar', 'plan', 'insert'],
  views: ['calendar', 'plan', 'insert'],
};

const SRC_ARTWORK = {
  color: [],
  measure: ['color'],
  findings: ['color'],
  remedies: ['color', 'measure'],
};

const SRC_ROUTING = { choice: [], fit: [] };

const API = {
  files: [],
  store: [],
  http: ['files', 'store'],
  services: ['files', 'store'],
  middleware: ['http', 'services', 'store'],
  'plan-page': ['services', 'store'],
  routes: ['files', 'http', 'middleware', 'plan-page', 'services', 'store'],
};

const WIDGET = {
  controllers: [],
  styles: [],
  draft: [],
  format: ['draft'],
  locales: ['format'],
  shop: ['draft'],
  stage: ['format', 'locales'],
  artwork: ['draft', 'shop', 'stage'],
  // Builds the npm package; it takes no part in the widget.
  package: [],
  parts: ['artwork', 'controllers', 'draft', 'format', 'locales', 'shop', 'stage', 'styles'],
};

/** One rule for each folder of `base`, and one that no folder is left out of the table. */
const layersOf = (base, table) => [
  ...Object.entries(table).map(([folder, below]) => ({
    name: `layer-of-${base}/${folder}`,
    comment: `${base}/${folder} may import of ${base} only: ${below.join(', ') || 'no other folder'}.`,
    severity: 'error',
    from: { path: `^${base}/${folder}/` },
    to: { path: `^${base}/[^/]+/`, pathNot: [folder, ...below].map((name) => `^${base}/${name}/`) },
  })),
  {
    name: `every-folder-of-${base}-has-a-layer`,
    comment: 'A new folder gets a line in the table above.',
    severity: 'error',
    from: { path: `^${base}/[^/]+/`, pathNot: Object.keys(table).map((name) => `^${base}/${name}/`) },
    to: {},
  },
];

/** @type {import('dependency-cruiser').IConfiguration} */
export default {
  forbidden: [
    ...layersOf('src', SRC),
    ...layersOf('src/promise', SRC_PROMISE),
    ...layersOf('src/artwork', SRC_ARTWORK),
    ...layersOf('src/routing', SRC_ROUTING),
    ...layersOf('api', API),
    ...layersOf('widget', WIDGET),
    {
      name: 'src-stands-alone',
      comment: 'The core imports itself and a few pure packages: no Node, no browser, no other folder.',
      severity: 'error',
      from: { path: '^src/' },
      // An import that cannot be resolved has a rule of its own.
      to: { pathNot: ['^src/', inPackages(purePackages)], couldNotResolve: false },
    },
    {
      name: 'helpers-of-src-know-the-contract-only',
      comment: 'Every folder may import the files directly in src, so they import no folder but the lowest.',
      severity: 'error',
      from: { path: '^src/[^/]+$' },
      to: { path: '^src/[^/]+/', pathNot: '^src/contract/' },
    },
    {
      name: 'choice-stands-alone',
      comment: 'The exact choice knows numbers, not garments: it imports nothing outside its folder.',
      severity: 'error',
      from: { path: '^src/routing/choice/' },
      to: { pathNot: '^src/routing/choice/', couldNotResolve: false },
    },
    {
      name: 'index-is-for-other-folders',
      comment: 'Inside a folder, files import each other directly.',
      severity: 'error',
      from: { path: '^src/([^/]+)/' },
      to: { path: '^src/$1/index\\.ts$' },
    },
    {
      name: 'owner-routes-on-top',
      comment: "Customers' routes know nothing of the owner's.",
      severity: 'error',
      from: { path: '^api/routes/', pathNot: '^api/routes/owner/' },
      to: { path: '^api/routes/owner/' },
    },
    {
      name: 'entries-on-top',
      comment: 'Only tests and other entries import what starts or assembles the whole.',
      severity: 'error',
      from: { path: '^(api|widget)/[^/]+/' },
      to: { path: '^(api/(app|server)|widget/(element|index|tag))\\.ts$' },
    },
    {
      name: 'api-imports-src-only',
      comment: 'api -> src; never the widget, the demo or a test.',
      severity: 'error',
      from: { path: '^api/' },
      to: { path: '^(widget|demo|tests)/' },
    },
    {
      name: 'widget-imports-src-only',
      comment: 'widget -> src; never the api (they meet only on the wire), the demo or a test.',
      severity: 'error',
      from: { path: '^widget/' },
      to: { path: '^(api|demo|tests)/' },
    },
    {
      name: 'through-the-front-door',
      comment: 'api and widget import a folder of src by its index.ts, or a file directly in src.',
      severity: 'error',
      from: { path: '^(api|widget)/' },
      to: { path: '^src/.+/', pathNot: '^src/[^/]+/index\\.ts$' },
    },
    {
      name: 'demo-stands-alone',
      comment: 'The demo uses only what a customer could: the built tag and the API.',
      severity: 'error',
      from: { path: '^demo/' },
      to: { path: '^(src|api|widget|tests)/' },
    },
    {
      name: 'only-stage-knows-fabric',
      severity: 'error',
      from: { path: '^(src|api|widget|demo)/', pathNot: '^widget/stage/' },
      to: { path: [inPackages(['fabric']), '^fabric(/|$)'] },
    },
    {
      name: 'widget-runs-in-a-browser',
      comment: 'No Node built-in can be bundled for a page.',
      severity: 'error',
      from: { path: '^widget/', pathNot: ['\\.config\\.m?[jt]s$', '^widget/package/'] },
      to: { dependencyTypes: ['core'] },
    },
    {
      name: 'no-dev-packages-in-the-product',
      severity: 'error',
      from: { path: '^(src|api|widget)/', pathNot: ['\\.config\\.m?[jt]s$', '^widget/package/'] },
      to: { dependencyTypes: ['npm-dev'], dependencyTypesNot: ['npm', 'npm-peer', 'type-only'] },
    },
    {
      name: 'no-unresolvable',
      comment:
        'An import that cannot be resolved cannot be checked. The package by its own name exists only once built; a test builds it and compiles a file that imports it.',
      severity: 'error',
      from: { path: '^(src|api|widget|demo|tests)/' },
      to: { couldNotResolve: true, pathNot: '^peel-and-platen(/element)?$' },
    },
    {
      name: 'no-cycles',
      comment: 'Types may refer to each other in a cycle; running code may not.',
      severity: 'error',
      from: { path: '^(src|api|widget)/' },
      to: { circular: true, viaOnly: { dependencyTypesNot: ['type-only'] } },
    },
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    // Anchored: packages have dist/ folders of their own, and those must be seen.
    exclude: { path: '^dist/' },
    // A type-only import couples two folders as firmly as any other.
    tsPreCompilationDeps: true,
    enhancedResolveOptions: {
      exportsFields: ['exports'],
      conditionNames: ['types', 'import', 'node', 'default'],
      extensions: ['.ts', '.mts', '.d.ts', '.js', '.mjs', '.json'],
    },
  },
};
