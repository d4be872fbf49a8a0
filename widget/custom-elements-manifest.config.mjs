/** What editors and catalogs of components may know of the tag: written to dist/ by `npm run manifest`. */
export default {
  globs: ['widget/{element,events}.ts'],
  outdir: 'dist',
  litelement: true,
  // A build must not edit package.json.
  packagejson: false,
  plugins: [
    {
      name: 'only-our-events',
      // The analyzer takes every dispatchEvent() for an event of its own name, whatever its argument is called.
      packageLinkPhase({ customElementsManifest }) {
        for (const { declarations = [] } of customElementsManifest.modules) {
          for (const declaration of declarations) {
            declaration.events = declaration.events?.filter(({ name }) => name?.startsWith('platen-'));
            declaration.members = declaration.members?.filter(({ privacy }) => privacy !== 'private');
          }
        }
      },
    },
  ],
};
