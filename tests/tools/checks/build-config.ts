import ts from 'typescript';

/** Hooks by which a plugin of Vite or Rollup rewrites the text of modules or of finished bundles. */
const REWRITING_HOOKS: ReadonlySet<string> = new Set([
  'transform',
  'renderChunk',
  'load',
  'banner',
  'footer',
]);

/** Entries of package.json that would change installed packages. */
const PATCHING_SCRIPTS = ['preinstall', 'install', 'postinstall', 'prepare'] as const;
const PATCHING_ENTRIES = ['patchedDependencies', 'pnpm'] as const;

/** Properties that hold the text of a finished bundle. */
const BUNDLE_TEXT: ReadonlySet<string> = new Set(['code', 'source']);

/**
 * Where a build configuration could edit the text of libraries: a plugin's hook that rewrites modules, an
 * assignment to the text of a finished bundle, or the path of a file inside a package. Libraries are used as published. One line per place; empty is good.
 *
 * @param packages names of installed packages
 */
export function buildConfigFaults(
  fileName: string,
  text: string,
  packages: readonly string[],
): readonly string[] {
  const source = ts.createSourceFile(fileName, text, ts.ScriptTarget.Latest, true);
  const faults: string[] = [];
  const report = (node: ts.Node, what: string) => {
    const { line } = source.getLineAndCharacterOfPosition(node.getStart(source));
    faults.push(`${fileName}:${line + 1} ${what}`);
  };
  const visit = (node: ts.Node): void => {
    if (
      (ts.isMethodDeclaration(node) ||
        ts.isPropertyAssignment(node) ||
        ts.isShorthandPropertyAssignment(node)) &&
      REWRITING_HOOKS.has(nameOf(node.name))
    )
      report(node, `a plugin rewrites text in its hook "${nameOf(node.name)}"`);
    if (
      ts.isBinaryExpression(node) &&
      node.operatorToken.kind === ts.SyntaxKind.EqualsToken &&
      ts.isPropertyAccessExpression(node.left) &&
      BUNDLE_TEXT.has(node.left.name.text)
    )
      report(node, `assigns to the text of a bundle: ${node.left.getText(source)}`);
    if (ts.isStringLiteralLike(node) || ts.isRegularExpressionLiteral(node)) {
      const inside = fileInsidePackage(node.text, packages);
      if (inside !== undefined) report(node, `names a file inside a package: ${inside}`);
    }
    ts.forEachChild(node, visit);
  };
  visit(source);
  return faults;
}

/** Ways in which package.json could change packages after they are installed. */
export function manifestFaults(manifest: Readonly<Record<string, unknown>>): readonly string[] {
  const scripts = (manifest['scripts'] ?? {}) as Readonly<Record<string, string>>;
  return [
    ...PATCHING_SCRIPTS.filter((name) => scripts[name] !== undefined).map(
      (name) => `package.json runs a script after installing: ${name}`,
    ),
    ...PATCHING_ENTRIES.filter((name) => manifest[name] !== undefined).map(
      (name) => `package.json may patch packages: ${name}`,
    ),
  ];
}

function nameOf(name: ts.PropertyName): string {
  return ts.isIdentifier(name) || ts.isStringLiteralLike(name) ? name.text : '';
}

/** `node_modules/…` or `<package>/….js`, in a string or a regular expression; programs in `bin` are run, not edited. */
function fileInsidePackage(literal: string, packages: readonly string[]): string | undefined {
  const path = literal.replaceAll('\\', '');
  if (/(^|[^\w-])node_modules\/./.test(path)) return literal;
  const names = packages.map((name) => name.replace(/[.]/g, '\\.')).join('|');
  return new RegExp(`(^|[^\\w-])(${names})/(?!bin/).*\\.[cm]?js`).test(path) ? literal : undefined;
}
