/** Which folder may import what. Run by `npm run check`; tests/house/imports.test.ts plants faults it must find. */
const purePackages = ['zod', 'decimal\\.js', 'temporal-polyfill', 'temporal-spec'];

/** Where a package lives once resolved, whatever its version or its own entry file. */
const inPackages = (names) => `(^|/)node_modules/(${names.join('|')})/`;

/** @type {import('dependency-cruiser').IConfiguration} */
export default {
  forbidden: [
    {
      name: 'src-stands-alone',
      comment: 'The core imports itself and a few pure packages: no Node, no browser, no other folder.',
      severity: 'error',
      from: { path: '^src/' },
      // What cannot be found is told of by its own rule.
      to: { pathNot: ['^src/', inPackages(purePackages)], couldNotResolve: false },
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
      comment: "api and widget enter a folder of src by its index.ts (or a file at src's own top).",
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
      to: { dependencyTypes: ['npm-dev'], dependencyTypesNot: ['npm', 'type-only'] },
    },
    {
      name: 'no-unresolvable',
      comment:
        'What cannot be found cannot be checked either. The package by its own name is there only once it is built; a test builds it and compiles what imports it so.',
      severity: 'error',
      from: { path: '^(src|api|widget|demo|tests)/' },
      to: { couldNotResolve: true, pathNot: '^peel-and-platen(/element)?$' },
    },
    {
      name: 'no-cycles',
      comment: 'Types may refer to each other in a ring; running code may not.',
      severity: 'error',
      from: { path: '^(src|api|widget)/' },
      to: { circular: true, viaOnly: { dependencyTypesNot: ['type-only'] } },
    },
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    // Anchored: packages keep their own dist/ folders, and those must be seen.
    exclude: { path: '^dist/' },
    // Type-only imports tie folders together as firmly as others do.
    tsPreCompilationDeps: true,
    enhancedResolveOptions: {
      exportsFields: ['exports'],
      conditionNames: ['types', 'import', 'node', 'default'],
      extensions: ['.ts', '.mts', '.d.ts', '.js', '.mjs', '.json'],
    },
  },
};
