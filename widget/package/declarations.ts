import { basename, join } from 'node:path';
import ts from 'typescript';

/** Files of `widget/` whose declarations are published as the compiler emits them. */
const PUBLIC_FILES = ['index.ts', 'element.ts', 'form-associated-element.ts', 'events.ts'];
/** Holds every other type that these name, written out in full. */
const TYPES_FILE = 'types.d.ts';
/** Where the types to be referred to by name come from. */
const NAMED_TYPES = ['src/contract/', 'widget/draft/draft.ts'];

/**
 * The package's type declarations, by file name. They need no other package than Lit: types that the source infers from
 * schemas are written out as plain TypeScript.
 *
 * @param root folder of the repository
 * @throws Error when a public type is of a kind that has no plain form
 */
export function declarations(root: string): ReadonlyMap<string, string> {
  const config = ts.getParsedCommandLineOfConfigFile(
    join(root, 'widget/tsconfig.json'),
    { noEmit: false, declaration: true, emitDeclarationOnly: true, stripInternal: true, outDir: root },
    { ...ts.sys, onUnRecoverableConfigFileDiagnostic: () => {} },
  );
  if (!config) throw new Error('widget/tsconfig.json cannot be read');
  const program = ts.createProgram(
    PUBLIC_FILES.map((file) => join(root, 'widget', file)),
    config.options,
  );
  const checker = program.getTypeChecker();
  const files = new Map<string, string>();
  const wanted = new Map<string, ts.Symbol>();

  for (const file of PUBLIC_FILES) {
    const source = program.getSourceFile(join(root, 'widget', file));
    program.emit(source, (path, text) => files.set(basename(path), text), undefined, true);
    const name = file.replace('.ts', '.d.ts');
    const emitted = files.get(name);
    if (!source || emitted === undefined) throw new Error(`no declarations of ${file}`);
    const imported = importedSymbols(source, checker);
    files.set(
      name,
      emitted.replace(
        /^(?:import|export)(?: type)? \{ (.+?) \} from '(\.[^']+)';$/gm,
        (line, names, path) => {
          if (PUBLIC_FILES.includes(path.slice(2))) return line.replace('.ts', '.js');
          for (const each of names.split(', ')) wanted.set(each, imported.get(each) as ts.Symbol);
          return line.replace(path, './types.js');
        },
      ),
    );
  }
  files.set('index.d.ts', `${files.get('index.d.ts')}export type * from './types.js';\n`);
  files.set(TYPES_FILE, new TypeWriter(program, checker, root).write(wanted));
  return files;
}

/** What a file imports, by local name. */
function importedSymbols(source: ts.SourceFile, checker: ts.TypeChecker): ReadonlyMap<string, ts.Symbol> {
  const symbols = new Map<string, ts.Symbol>();
  for (const statement of source.statements) {
    const bindings = ts.isImportDeclaration(statement) && statement.importClause?.namedBindings;
    if (!bindings || !ts.isNamedImports(bindings)) continue;
    for (const { name } of bindings.elements) {
      const symbol = checker.getSymbolAtLocation(name);
      if (symbol) symbols.set(name.text, checker.getAliasedSymbol(symbol));
    }
  }
  return symbols;
}

/** Writes types out in full, each named one once. */
class TypeWriter {
  readonly #checker: ts.TypeChecker;
  readonly #names = new Map<ts.Type, ts.Symbol>();
  readonly #queue: ts.Symbol[] = [];

  constructor(program: ts.Program, checker: ts.TypeChecker, root: string) {
    this.#checker = checker;
    for (const source of program.getSourceFiles()) {
      if (!NAMED_TYPES.some((path) => source.fileName.startsWith(join(root, path)))) continue;
      const module = checker.getSymbolAtLocation(source);
      for (const symbol of module ? checker.getExportsOfModule(module) : []) {
        if (!(symbol.flags & ts.SymbolFlags.TypeAlias)) continue;
        const type = checker.getDeclaredTypeOfSymbol(symbol);
        if (type.flags & (ts.TypeFlags.Object | ts.TypeFlags.UnionOrIntersection))
          this.#names.set(type, symbol);
      }
    }
  }

  write(wanted: ReadonlyMap<string, ts.Symbol>): string {
    this.#queue.push(...wanted.values());
    const written = new Map<string, string>();
    for (let symbol = this.#queue.shift(); symbol; symbol = this.#queue.shift()) {
      if (written.has(symbol.name)) continue;
      const type = this.#checker.getDeclaredTypeOfSymbol(symbol);
      const body = type.isClass() ? this.#instance(type) : this.#inFull(type, '');
      written.set(symbol.name, `${this.#doc(symbol, '')}export type ${symbol.name} = ${body};\n`);
    }
    return [...written.values()].join('\n');
  }

  #text(type: ts.Type, indent: string): string {
    const name = this.#names.get(type);
    if (!name) return this.#inFull(type, indent);
    this.#queue.push(name);
    return name.name;
  }

  #inFull(type: ts.Type, indent: string): string {
    const checker = this.#checker;
    if (type.isUnion()) return this.#union(type, indent);
    if (checker.isTupleType(type))
      return `[${this.#elements(type)
        .map((element) => this.#text(element, indent))
        .join(', ')}]`;
    if (checker.isArrayType(type)) {
      const element = this.#text(this.#elements(type)[0] as ts.Type, indent);
      const readonly = type.symbol.name === 'ReadonlyArray' ? 'readonly ' : '';
      return `${readonly}${element.includes(' | ') && !element.startsWith('{') ? `(${element})` : element}[]`;
    }
    if (type.getCallSignatures().length > 0)
      throw new Error(`a function has no place in ${checker.typeToString(type)}`);
    if (type.flags & (ts.TypeFlags.Object | ts.TypeFlags.Intersection))
      return this.#object(checker.getPropertiesOfType(type), checker.getIndexInfosOfType(type), indent);
    return checker.typeToString(type);
  }

  /** An instance of a class of errors: what it has besides `Error`. */
  #instance(type: ts.InterfaceType): string {
    const own = type.symbol.members ? [...type.symbol.members.values()] : [];
    const properties = own.filter(({ flags }) => flags & ts.SymbolFlags.Property);
    return `Error & ${this.#object(properties, [], '')}`;
  }

  #elements(type: ts.Type): readonly ts.Type[] {
    return this.#checker.getTypeArguments(type as ts.TypeReference);
  }

  #union(type: ts.UnionType, indent: string): string {
    const texts = type.types.map((member) => this.#text(member, indent));
    const rest = texts.filter((text) => text !== 'true' && text !== 'false');
    return (rest.length + 2 === texts.length ? [...rest, 'boolean'] : texts).join(' | ');
  }

  #object(properties: readonly ts.Symbol[], indexes: readonly ts.IndexInfo[], indent: string): string {
    const inner = `${indent}  `;
    const lines = properties.map((property) => {
      const type = this.#checker.getTypeOfSymbol(property);
      const optional = (property.flags & ts.SymbolFlags.Optional) !== 0;
      const readonly = property.declarations?.some(
        (declaration) => ts.getCombinedModifierFlags(declaration) & ts.ModifierFlags.Readonly,
      );
      const name = /^\w+$/.test(property.name) ? property.name : JSON.stringify(property.name);
      return `${this.#doc(property, inner)}${inner}${readonly ? 'readonly ' : ''}${name}${optional ? '?' : ''}: ${this.#text(optional ? this.#present(type) : type, inner)};\n`;
    });
    for (const { keyType, type } of indexes)
      lines.push(`${inner}[key: ${this.#checker.typeToString(keyType)}]: ${this.#text(type, inner)};\n`);
    return `{\n${lines.join('')}${indent}}`;
  }

  /** The type of an optional property where it is there. */
  #present(type: ts.Type): ts.Type {
    const orNull = type.isUnion() && type.types.some(({ flags }) => flags & ts.TypeFlags.Null);
    return type.isUnion() && !orNull ? this.#checker.getNonNullableType(type) : type;
  }

  #doc(symbol: ts.Symbol, indent: string): string {
    const text = ts.displayPartsToString(symbol.getDocumentationComment(this.#checker));
    return text ? `${indent}/** ${text.replaceAll('\n', ' ')} */\n` : '';
  }
}
