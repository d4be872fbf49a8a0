/** Configures custom-elements.json, which tells editors and catalogs of components what the tag has. */

/** Names of the public members that the classes of a file declare, by class. */
function publicMembers(ts, file) {
  const hidden = ts.ModifierFlags.Private | ts.ModifierFlags.Protected;
  const members = new Map();
  for (const node of file.statements.filter(ts.isClassDeclaration)) {
    const named = node.members.filter(
      (member) =>
        member.name &&
        !ts.isPrivateIdentifier(member.name) &&
        !(ts.getCombinedModifierFlags(member) & hidden) &&
        !ts.getJSDocTags(member).some(({ tagName }) => tagName.text === 'internal'),
    );
    members.set(node.name?.text, new Set(named.map(({ name }) => name.getText())));
  }
  return members;
}

/** Where a module of the source is found in the package. */
const published = (path) => path.replace(/^widget\/(\w+)\.ts$/, '$1.js');

const declared = new Map();

/** The analyzer also takes for members what a constructor assigns to, however deep, and for events every dispatch. */
const onlyPublic = {
  name: 'only-public',
  collectPhase({ ts, node }) {
    if (ts.isSourceFile(node))
      for (const [name, members] of publicMembers(ts, node)) declared.set(name, members);
  },
  packageLinkPhase({ customElementsManifest }) {
    for (const module of customElementsManifest.modules) {
      module.path = published(module.path);
      for (const { declaration } of module.exports ?? [])
        if (declaration.module) declaration.module = published(declaration.module);
      for (const declaration of module.declarations ?? []) {
        const members = declared.get(declaration.name);
        declaration.members = declaration.members?.filter(
          // the browser calls its callbacks, a page never does; `lang` is HTMLElement's, declared as an attribute
          ({ name }) => (members?.has(name) && !name.endsWith('Callback')) || name === 'lang',
        );
        declaration.events = declaration.events?.filter(({ name }) => name?.startsWith('platen-'));
      }
    }
  },
};

export default {
  globs: ['widget/{element,form-associated-element,events}.ts'],
  outdir: 'dist/package',
  litelement: true,
  // The analyzer must not edit the repository's package.json.
  packagejson: false,
  plugins: [onlyPublic],
};
