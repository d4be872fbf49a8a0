import { readdir, readFile, writeFile } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { promisify } from 'node:util';
import { brotliCompress } from 'node:zlib';
import { minifyHTMLLiterals } from 'minify-literals';
import { defineConfig, type Plugin, Visitor } from 'vite';

/** White space inside html and css literals is bytes too; the general minifier leaves strings alone. */
const minifyLiterals: Plugin = {
  name: 'minify-literals',
  apply: 'build',
  enforce: 'pre',
  async transform(code, id) {
    if (!/\/widget\/.*\.ts$/.test(id) || !/\b(html|css|svg)`/.test(code)) return null;
    const small = await minifyHTMLLiterals(code, { fileName: id });
    // it only warns of styles it does not understand (a value put into a condition, say), and leaves the file as it was
    if (/css`\s/.test(small?.code ?? code)) throw new Error(`the styles of ${id} could not be made small`);
    return small ? { code: small.code, map: small.map?.toString() ?? null } : null;
  },
};

/** Tables of a language that are said, or needed, at first sight. */
const FIRST: readonly string[] = ['direction', 'ui'];

/**
 * Makes two files of a language's one: what is said at first sight (`?first`), and what only once there is something to
 * say it of (`?later`). What is left unused by the cut goes with it.
 */
const splitLanguages: Plugin = {
  name: 'split-languages',
  apply: 'build',
  transform(code, id) {
    const part = /\/locales\/[\w-]+\.ts\?(first|later)$/.exec(id)?.[1];
    if (part === undefined) return null;
    const exported = this.parse(code).body.find((node) => node.type === 'ExportNamedDeclaration');
    const value =
      exported?.type === 'ExportNamedDeclaration' && exported.declaration?.type === 'VariableDeclaration'
        ? exported.declaration.declarations[0]?.init
        : null;
    if (value?.type !== 'ObjectExpression') throw new Error(`${id} exports no object of messages`);
    const kept = value.properties.filter((property) => {
      if (property.type !== 'Property' || property.key.type !== 'Identifier')
        throw new Error(`${id} must list its tables by plain names`);
      return FIRST.includes(property.key.name) === (part === 'first');
    });
    if (kept.length === 0) throw new Error(`${id} has nothing to say`);
    const inside = kept.map(({ start, end }) => code.slice(start, end)).join(',');
    return { code: `${code.slice(0, value.start)}{${inside}}${code.slice(value.end)}`, map: null };
  },
};

const STATIC_CANVAS = /fabric\/dist\/src\/canvas\/StaticCanvas\.min\.mjs$/;

/** Text of Lit's files, each there once, and what the build has in its place. */
type Replaced = readonly (readonly [file: RegExp, text: string | RegExp, instead: string])[];

/** What Lit asks of the page while it is only being imported, and what a server has in its place: nothing. */
const WITHOUT_PAGE: Replaced = [
  [
    /reactive-element\/reactive-element\.js$/,
    'extends HTMLElement{',
    'extends(globalThis.HTMLElement??class{}){',
  ],
  [/lit-html\/lit-html\.js$/, '=document,', '=globalThis.document??{createTreeWalker(){}},'],
];

/**
 * What Lit has for others: words for mistakes that the type checker finds here, kinds of attributes the slip has none
 * of, decorators, hooks for browsers too old for the rest of the slip, and its own count of its copies on a page.
 */
const UNUSED_OF_LIT: Replaced = [
  [
    /reactive-element\/css-tag\.js$/,
    '=t.ShadowRoot&&(void 0===t.ShadyCSS||t.ShadyCSS.nativeShadow)&&"adoptedStyleSheets"in Document.prototype&&"replace"in CSSStyleSheet.prototype',
    '=!0',
  ],
  [
    /reactive-element\/css-tag\.js$/,
    'if(this._$cssResult$=!0,o!==s)throw Error("CSSResult is not constructable. Use `unsafeCSS` or `css` instead.");',
    'this._$cssResult$=!0;',
  ],
  [
    /reactive-element\/css-tag\.js$/,
    `throw Error("Value passed to 'css' function must be a 'css' function result: "+t+". Use 'unsafeCSS' to pass non-literal values, but take care to ensure page security.")`,
    'throw t',
  ],
  [/reactive-element\/css-tag\.js$/, 'toString(){return this.cssText}', ''],
  [
    /reactive-element\/css-tag\.js$/,
    'if(e)s.adoptedStyleSheets=o.map(t=>t instanceof CSSStyleSheet?t:t.styleSheet);else for(const e of o){const o=document.createElement("style"),n=t.litNonce;void 0!==n&&o.setAttribute("nonce",n),o.textContent=e.cssText,s.appendChild(o)}',
    's.adoptedStyleSheets=o.map(t=>t.styleSheet)',
  ],
  [
    /reactive-element\/css-tag\.js$/,
    'c=e?t=>t:t=>t instanceof CSSStyleSheet?(t=>{let e="";for(const s of t.cssRules)e+=s.cssText;return r(e)})(t):t',
    'c=t=>t',
  ],
  [
    /reactive-element\/reactive-element\.js$/,
    'static addInitializer(t){this._$Ei(),(this.l??=[]).push(t)}',
    '',
  ],
  [/reactive-element\/reactive-element\.js$/, ',void 0!==t.l&&(this.l=[...t.l])', ''],
  [/reactive-element\/reactive-element\.js$/, ',this.constructor.l?.forEach(t=>t(this))', ''],
  [/reactive-element\/reactive-element\.js$/, 'removeController(t){this._$EO?.delete(t)}', ''],
  [/reactive-element\/reactive-element\.js$/, 'case Object:case Array:t=null==t?t:JSON.stringify(t)', ''],
  [
    /reactive-element\/reactive-element\.js$/,
    'case Number:i=null===t?null:Number(t);break;case Object:case Array:try{i=JSON.parse(t)}catch(t){i=null}',
    '',
  ],
  [
    /reactive-element\/reactive-element\.js$/,
    'const t=this[Symbol.metadata];if(null!==t){const s=litPropertyMetadata.get(t);if(void 0!==s)for(const[t,i]of s)this.elementProperties.set(t,i)}',
    '',
  ],
  [
    /reactive-element\/reactive-element\.js$/,
    'Symbol.metadata??=Symbol("metadata"),a.litPropertyMetadata??=new WeakMap;',
    '',
  ],
  [/reactive-element\/reactive-element\.js$/, ',p=a.reactiveElementPolyfillSupport', ''],
  [
    /reactive-element\/reactive-element\.js$/,
    '(void 0!==i.converter?.toAttribute?i.converter:u).toAttribute',
    'u.toAttribute',
  ],
  [
    /reactive-element\/reactive-element\.js$/,
    ',h="function"==typeof t.converter?{fromAttribute:t.converter}:void 0!==t.converter?.fromAttribute?t.converter:u;',
    ';',
  ],
  [/reactive-element\/reactive-element\.js$/, 'h.fromAttribute', 'u.fromAttribute'],
  [
    /reactive-element\/reactive-element\.js$/,
    'converter:u,reflect:!1,useDefault:!1,hasChanged:f',
    'reflect:!1',
  ],
  [/reactive-element\/reactive-element\.js$/, '=r??this._$Ej?.get(e)??r', '=r'],
  [
    /reactive-element\/reactive-element\.js$/,
    '!((i.hasChanged??f)(h,s)||i.useDefault&&i.reflect&&h===this._$Ej?.get(t)&&!this.hasAttribute(r._$Eu(t,i)))',
    '!f(h,s)',
  ],
  [
    /reactive-element\/reactive-element\.js$/,
    '{useDefault:i,reflect:e,wrapped:h},r){i&&!(this._$Ej??=new Map).has(t)&&(this._$Ej.set(t,r??s??this[t]),!0!==h||void 0!==r)||(this._$AL.has(t)||(this.hasUpdated||i||(s=void 0)',
    '{reflect:e}){(this._$AL.has(t)||(this.hasUpdated||(s=void 0)',
  ],
  [
    /reactive-element\/reactive-element\.js$/,
    /,p\?\.\(\{ReactiveElement:y\}\),\(a\.reactiveElementVersions\?\?=\[\]\)\.push\("[\d.]+"\)/,
    '',
  ],
  [
    /lit-html\/directives\/repeat\.js$/,
    'constructor(e){if(super(e),e.type!==r.CHILD)throw Error("repeat() can only be used in text expressions")}',
    '',
  ],
  [/lit-element\/lit-element\.js$/, ',s.litElementHydrateSupport?.({LitElement:i})', ''],
  [/lit-element\/lit-element\.js$/, 'const o=s.litElementPolyfillSupport;o?.({LitElement:i});', ''],
  [/lit-element\/lit-element\.js$/, /\(s\.litElementVersions\?\?=\[\]\)\.push\("[\d.]+"\);/, ''],
  [
    /lit-html\/lit-html\.js$/,
    /,B=t\.litHtmlPolyfillSupport;B\?\.\(S,k\),\(t\.litHtmlVersions\?\?=\[\]\)\.push\("[\d.]+"\);/,
    ';',
  ],
];

/**
 * Where the canvas lies on the page, which only its own handling of the pointer would want to know; names of fields that
 * are anything but text; settings of what is not drawn with it: text, filters, kept pictures, SVG; and what lies over or
 * under all objects, or cuts them, and a word on objects of another canvas, of which the stage has nothing.
 */
const UNUSED_OF_CANVAS: Replaced = [
  [/fabric\/dist\/_virtual\/.*\/defineProperty\.min\.mjs$/, '(n=e(n))in t', '(n)in t'],
  [
    /fabric\/dist\/src\/config\.min\.mjs$/,
    /,e\(this,`perfLimitSizeTotal`,\d+\),.+e\(this,`NUM_FRACTION_DIGITS`,4\)(?=\}\})/,
    '',
  ],
  [STATIC_CANVAS, ',this._renderBackground(e)', ''],
  [STATIC_CANVAS, /e\.canvas&&e\.canvas!==this&&\(\w\(`warn`,`[^`]+`\),e\.canvas\.remove\(e\)\),/, ''],
  [
    STATIC_CANVAS,
    /,this\.controlsAboveOverlay\|\|.+?this\._renderOverlay\(e\),.+?this\.drawControls\(e\)/,
    '',
  ],
  [
    STATIC_CANVAS,
    /,this\.backgroundImage&&this\.backgroundImage\.dispose\(\),.+?,this\.overlayImage=void 0/,
    '',
  ],
  [/fabric\/dist\/src\/env\/browser\.min\.mjs$/, ',WebGLProbe:new e', ''],
  [STATIC_CANVAS, ',this.calcOffset()', ''],
];

/** Puts those replacements in: among them what lets a server import the widget, whose class is inert there. */
const librariesAsUsed: Plugin = {
  name: 'libraries-as-used',
  apply: 'build',
  transform(code, id) {
    let changed = code;
    for (const [file, text, instead] of [...WITHOUT_PAGE, ...UNUSED_OF_LIT, ...UNUSED_OF_CANVAS]) {
      if (!file.test(id)) continue;
      if (code.split(text).length !== 2) throw new Error(`${id} no longer has "${text}" once`);
      changed = changed.replace(text, () => instead);
    }
    return changed === code ? null : { code: changed, map: null };
  },
};

/** Methods of Fabric's drawing canvas, by file, that the stage has no use for and no kept method calls. */
const UNUSED_OF_FABRIC: readonly (readonly [file: RegExp, methods: string])[] = [
  [
    STATIC_CANVAS,
    `insertAt _onStackOrderChanged getWidth getHeight getZoom zoomToPoint setZoom absolutePan relativePan getElement clear
    getCenterPoint centerObjectH centerObjectV centerObject viewportCenterObject viewportCenterObjectH
    viewportCenterObjectV getVpCenter _centerObject toDatalessJSON toObject toJSON toDatalessObject _toObjectMethod
    _toObject __serializeBgOverlay toSVG _setSVGPreamble _setSVGHeader createSVGClipPathMarkup createSVGRefElementsMarkup
    createSVGFontFacesMarkup _setSVGObjects _setSVGObject _setSVGBgOverlayImage _setSVGBgOverlayColor loadFromJSON clone
    cloneWithoutData toDataURL toBlob toCanvasElement calcOffset toString drawControls drawClipPathOnCanvas
    _renderBackgroundOrOverlay _renderBackground _renderOverlay`,
  ],
  [
    /fabric\/dist\/src\/Collection\.min\.mjs$/,
    `insertAt item isEmpty size contains sendObjectToBack bringObjectToFront sendObjectBackwards
    bringObjectForward moveObjectTo findNewLowerIndex findNewUpperIndex collectObjects complexity`,
  ],
  [
    /fabric\/dist\/src\/Point\.min\.mjs$/,
    `addEquals scalarAdd scalarAddEquals subtractEquals scalarSubtract scalarSubtractEquals multiply scalarMultiply
    scalarMultiplyEquals divide scalarDivide scalarDivideEquals lt lte gt gte lerp distanceFrom midPointFrom swap rotate
    subtract eq toString setXY setX setY setFromPoint clone`,
  ],
  [/fabric\/dist\/src\/filters\/GLProbes\/WebGLProbe\.min\.mjs$/, 'testPrecision queryWebGL isSupported'],
  [/fabric\/dist\/src\/canvas\/DOMManagers\/StaticCanvasDOMManager\.min\.mjs$/, 'calcOffset'],
  [/fabric\/dist\/src\/config\.min\.mjs$/, 'addFonts removeFonts clearFonts restoreDefaults'],
  [/fabric\/dist\/src\/CommonMethods\.min\.mjs$/, 'toggle'],
  [/fabric\/dist\/src\/Observable\.min\.mjs$/, 'once'],
  [/fabric\/dist\/src\/util\/animation\/AnimationRegistry\.min\.mjs$/, 'cancelAll cancelByTarget'],
];

/**
 * Leaves those out: a bundler keeps a class whole, and with its methods for saving and for SVG all that these import.
 * A name that Fabric has no longer stops the build, and so does one that a kept method calls on its own object.
 */
const onlyWhatIsDrawnWith: Plugin = {
  name: 'only-what-is-drawn-with',
  apply: 'build',
  transform(code, id) {
    const methods = UNUSED_OF_FABRIC.find(([file]) => file.test(id))?.[1].split(/\s+/);
    if (methods === undefined) return null;
    let kept = '';
    let from = 0;
    new Visitor({
      MethodDefinition({ key, start, end }) {
        if (key.type !== 'Identifier' || !methods.includes(key.name)) return;
        kept += code.slice(from, start);
        from = end;
        methods.splice(methods.indexOf(key.name), 1);
      },
    }).visit(this.parse(code));
    if (methods.length > 0) throw new Error(`${id} no longer has ${methods.join(', ')}`);
    kept += code.slice(from);
    const called = UNUSED_OF_FABRIC.flatMap(([, names]) => names.split(/\s+/)).filter((name) =>
      new RegExp(`(this|super)\\.${name}\\(`).test(kept),
    );
    // numbers have methods of the same names, which are theirs
    if (called.length > 0 && !id.includes('Point')) throw new Error(`${id} calls ${called.join(', ')}`);
    return { code: kept, map: null };
  },
};

const AT_ONCE = '//# allFunctionsCalledOnLoad\n';

/**
 * Nearly all of the slip's first script runs at first sight. Browsers that know the hint compile it while it comes, off
 * the page's own thread, rather than function by function as each is called.
 */
const compiledAtOnce: Plugin = {
  name: 'compiled-at-once',
  apply: 'build',
  generateBundle(_, bundle) {
    const slip = Object.values(bundle).find((file) => file.type === 'chunk' && file.name === 'slip');
    if (slip?.type !== 'chunk') throw new Error('there is no script of the slip');
    slip.code = AT_ONCE + slip.code;
    const map = bundle[`${slip.fileName}.map`];
    if (map?.type !== 'asset') throw new Error(`${slip.fileName} has no source map`);
    // all of it is a line further down
    map.source = JSON.stringify({ ...JSON.parse(String(map.source)), mappings: `;${slip.map?.mappings}` });
  },
};

/**
 * The script for pages imports the class by the entry that brings it, a file that only names the slip's script: one more
 * trip to the shop. It is led past it.
 */
const straightToTheSlip: Plugin = {
  name: 'straight-to-the-slip',
  apply: 'build',
  generateBundle(_, bundle) {
    const tag = bundle['platen-order.js'];
    const brings = bundle['platen-order.class.js'];
    if (tag?.type !== 'chunk' || brings?.type !== 'chunk')
      throw new Error('there is no script of the tag or the class');
    const [, name, path] = /^export\{(\w+) as PlatenOrder\}from"\.\/(.+?)";/.exec(brings.code) ?? [];
    const [asked = '', own] =
      /\{PlatenOrder:(\w+)\}=await import\([`"]\.\/platen-order\.class\.js[`"]\)/.exec(tag.code) ?? [];
    if (!path || !own) throw new Error(`${tag.fileName} does not ask for what ${brings.fileName} brings`);
    // as long as before, so that the source map holds
    const straight = `{${name}:${own}}=await import("./${path}")`.padEnd(asked.length);
    if (straight.length > asked.length) throw new Error(`${straight} is longer than ${asked}`);
    tag.code = tag.code.replace(asked, () => straight);
  },
};

/** A packed copy beside every script, made once at its best, so that the server need not pack what it sends. */
const packed: Plugin = {
  name: 'packed',
  apply: 'build',
  async writeBundle({ dir = '' }) {
    const names = await readdir(dir, { recursive: true });
    await Promise.all(
      names
        .filter((name) => name.endsWith('.js'))
        .map(async (name) => {
          const path = join(dir, name);
          await writeFile(`${path}.br`, await promisify(brotliCompress)(await readFile(path)));
        }),
    );
  },
};

/**
 * Builds the widget into dist/widget: `platen-order.js` is the script for pages, which defines the tag;
 * `platen-order.define.js` defines it for bundlers; `platen-order.class.js` only brings the class. All three take it from
 * one chunk. What is imported lazily (the stage, a locale) becomes a hashed chunk, workers their own files.
 */
export default defineConfig({
  // Chunks and workers are found beside the entry, wherever a shop serves it from.
  base: '../',
  publicDir: false,
  plugins: [
    minifyLiterals,
    splitLanguages,
    librariesAsUsed,
    onlyWhatIsDrawnWith,
    compiledAtOnce,
    straightToTheSlip,
    packed,
  ],
  build: {
    outDir: 'dist/widget',
    emptyOutDir: true,
    target: 'es2022',
    sourcemap: true,
    manifest: 'manifest.json',
    // A preload helper would put <link> tags into the shop's own <head>.
    modulePreload: false,
    lib: {
      entry: {
        'platen-order': resolve(import.meta.dirname, 'tag.ts'),
        'platen-order.define': resolve(import.meta.dirname, 'index.ts'),
        'platen-order.class': resolve(import.meta.dirname, 'element.ts'),
      },
      formats: ['es'],
    },
    rolldownOptions: {
      output: {
        entryFileNames: '[name].js',
        chunkFileNames: 'chunks/[name]-[hash].js',
        assetFileNames: 'assets/[name]-[hash][extname]',
        // Library mode keeps white space unless told otherwise.
        minify: true,
        comments: false,
        // What the first sight needs is one file: each file that only another names is one more trip to the shop.
        codeSplitting: { groups: [{ name: 'slip', test: /\/widget\/element\.ts$/ }] },
      },
    },
  },
  worker: {
    format: 'es',
    rolldownOptions: {
      output: { entryFileNames: 'workers/[name]-[hash].js', minify: true, comments: false },
    },
  },
});
