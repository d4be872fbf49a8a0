import ts from 'typescript';

/** A place where pure code uses something that it must be given instead. */
export type Impurity = { readonly line: number; readonly what: string };

/** Global names that give access to the clock, randomness, the network, the host or the page. */
const FORBIDDEN_GLOBALS: ReadonlySet<string> = new Set([
  'performance',
  'process',
  'fetch',
  'crypto',
  'console',
  'globalThis',
  'window',
  'self',
  'document',
  'navigator',
  'location',
  'localStorage',
  'sessionStorage',
  'indexedDB',
  'XMLHttpRequest',
  'WebSocket',
  'Worker',
  'Buffer',
  'require',
  'module',
  '__dirname',
  '__filename',
  'setTimeout',
  'setInterval',
  'setImmediate',
  'queueMicrotask',
  'requestAnimationFrame',
  'eval',
  'Function',
]);

/** Impure members of globals that are pure otherwise. */
const FORBIDDEN_MEMBERS: ReadonlySet<string> = new Set([
  'Date.now',
  'Math.random',
  'Temporal.Now',
  'import.meta',
]);

/** Methods whose result depends on the machine's language or time zone when no locale is given. */
const NEEDS_LOCALE: ReadonlySet<string> = new Set([
  'toLocaleString',
  'toLocaleDateString',
  'toLocaleTimeString',
  'toLocaleUpperCase',
  'toLocaleLowerCase',
  'localeCompare',
]);

/**
 * Finds what makes a file of the core impure. Names count only where they are used as values: a property called
 * `process`, a local called `location` or a type of either name is fine.
 */
export function impurities(fileName: string, text: string): Impurity[] {
  const source = ts.createSourceFile(fileName, text, ts.ScriptTarget.Latest, true);
  const own = declaredNames(source);
  const found: Impurity[] = [];
  const report = (node: ts.Node, what: string) => {
    found.push({ line: source.getLineAndCharacterOfPosition(node.getStart(source)).line + 1, what });
  };

  const visit = (node: ts.Node): void => {
    if (ts.isTypeNode(node) || ts.isInterfaceDeclaration(node) || ts.isTypeAliasDeclaration(node)) return;
    if (ts.isMetaProperty(node)) report(node, 'import.meta');
    if (
      ts.isIdentifier(node) &&
      isValueUse(node) &&
      FORBIDDEN_GLOBALS.has(node.text) &&
      !own.has(node.text)
    ) {
      report(node, node.text);
    }
    const member = memberName(node);
    if (member !== undefined && FORBIDDEN_MEMBERS.has(member)) report(node, member);
    if (ts.isIdentifier(node) && node.text === 'Date' && !own.has('Date')) {
      const { parent } = node;
      const args = (ts.isNewExpression(parent) || ts.isCallExpression(parent)) && parent.expression === node;
      if (args && ts.isCallExpression(parent)) report(parent, 'Date()');
      if (args && ts.isNewExpression(parent) && (parent.arguments?.length ?? 0) === 0)
        report(parent, 'new Date()');
    }
    if (ts.isCallExpression(node) && ts.isPropertyAccessExpression(node.expression)) {
      const method = node.expression.name.text;
      const locale = node.arguments[method === 'localeCompare' ? 1 : 0];
      if (NEEDS_LOCALE.has(method) && locale === undefined) report(node, `${method} without a locale`);
    }
    if (ts.isNewExpression(node) && ts.isPropertyAccessExpression(node.expression)) {
      const name = node.expression;
      if (ts.isIdentifier(name.expression) && name.expression.text === 'Intl' && !node.arguments?.length) {
        report(node, `Intl.${name.name.text} without a locale`);
      }
    }
    ts.forEachChild(node, visit);
  };
  visit(source);
  return found;
}

/** `Date.now` and `Date['now']` alike. */
function memberName(node: ts.Node): string | undefined {
  if (ts.isPropertyAccessExpression(node) && ts.isIdentifier(node.expression)) {
    return `${node.expression.text}.${node.name.text}`;
  }
  if (
    ts.isElementAccessExpression(node) &&
    ts.isIdentifier(node.expression) &&
    ts.isStringLiteralLike(node.argumentExpression)
  ) {
    return `${node.expression.text}.${node.argumentExpression.text}`;
  }
  return undefined;
}

/** False for names of properties, of things being declared, and of what an import or export renames. */
function isValueUse(node: ts.Identifier): boolean {
  const { parent } = node;
  if (ts.isPropertyAccessExpression(parent)) return parent.name !== node;
  if (ts.isPropertyAssignment(parent)) return parent.name !== node;
  if (ts.isBindingElement(parent)) return parent.propertyName !== node && parent.initializer === node;
  if (ts.isVariableDeclaration(parent) || ts.isParameter(parent)) return parent.initializer === node;
  if (ts.isPropertyDeclaration(parent)) return parent.initializer === node;
  return !(
    ts.isPropertySignature(parent) ||
    ts.isMethodDeclaration(parent) ||
    ts.isMethodSignature(parent) ||
    ts.isFunctionDeclaration(parent) ||
    ts.isClassDeclaration(parent) ||
    ts.isGetAccessorDeclaration(parent) ||
    ts.isSetAccessorDeclaration(parent) ||
    ts.isImportSpecifier(parent) ||
    ts.isExportSpecifier(parent) ||
    ts.isLabeledStatement(parent)
  );
}

/** Every name that the file declares or imports: such a name is not the global. */
function declaredNames(source: ts.SourceFile): ReadonlySet<string> {
  const names = new Set<string>();
  const visit = (node: ts.Node): void => {
    const declares =
      ts.isVariableDeclaration(node) ||
      ts.isParameter(node) ||
      ts.isBindingElement(node) ||
      ts.isFunctionDeclaration(node) ||
      ts.isClassDeclaration(node) ||
      ts.isImportSpecifier(node) ||
      ts.isImportClause(node) ||
      ts.isNamespaceImport(node);
    if (declares && node.name !== undefined && ts.isIdentifier(node.name)) names.add(node.name.text);
    ts.forEachChild(node, visit);
  };
  visit(source);
  return names;
}
