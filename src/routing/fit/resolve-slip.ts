import { listedIds } from '../../catalog/checks/sections.ts';
import type { Cloth, CompiledBlank, CompiledCatalog, CompiledFinish } from '../../catalog/compile.ts';
import type { Fault, NamesPlacement, Remedy, Slip, SlipLine } from '../../contract/index.ts';
import { piecesOf } from '../../contract/index.ts';
import { scaleToTotal } from '../../largest-remainder.ts';
import { type KnownArtwork, type Lettering, type Print, printOfArtwork, printOfNames } from './print.ts';

/** An artwork with these mends; undefined when there is no such artwork. */
export type ArtworkOf = (artwork: string, remedies: readonly Remedy[]) => KnownArtwork | undefined;

/** A line whose every id is known, with its prints measured. */
export type ResolvedLine = {
  readonly index: number;
  readonly line: SlipLine;
  readonly blank: CompiledBlank;
  readonly cloth: Cloth;
  readonly finish: CompiledFinish;
  readonly pieces: number;
  readonly sizes: readonly string[];
  readonly prints: readonly Print[];
};

/** The same line in another finish. */
export function withFinish(line: ResolvedLine, finish: CompiledFinish): ResolvedLine {
  return { ...line, finish, line: { ...line.line, finish: finish.finish.id } };
}

/** The same line with a method asked for. */
export function withMethod(line: ResolvedLine, method: string): ResolvedLine {
  return { ...line, line: { ...line.line, method } };
}

/** The same line with another count, its sizes in the same proportion. */
export function withCount(line: ResolvedLine, pieces: number): ResolvedLine {
  const counts = scaleToTotal(line.line.counts, pieces);
  return {
    ...line,
    pieces,
    sizes: counts.map(({ size }) => size),
    line: { ...line.line, counts },
  };
}

/** What a slip is refused for before any routing: each fault with its place, value and what is allowed. */
export type SlipFaults = {
  readonly code: 'unknown-id' | 'unknown-artwork' | 'invalid-input';
  readonly faults: readonly Fault[];
};

/** Looks up everything a slip names. All faults are told at once. */
export function resolveSlip(
  catalog: CompiledCatalog,
  slip: Slip,
  artworkOf: ArtworkOf,
  lettering: Lettering,
): { readonly lines: readonly ResolvedLine[] } | SlipFaults {
  const finder = new SlipResolver(catalog, artworkOf, lettering);
  finder.known('delivery', slip.delivery, catalog.deliveries, 'delivery');
  finder.unique('lines', slip.lines);
  const lines: ResolvedLine[] = [];
  slip.lines.forEach((line, index) => {
    const resolved = finder.line(line, index);
    if (resolved !== undefined) lines.push(resolved);
  });
  return finder.result(lines);
}

class SlipResolver {
  readonly #catalog: CompiledCatalog;
  readonly #artworkOf: ArtworkOf;
  readonly #lettering: Lettering;
  readonly #faults: Fault[] = [];
  #artworkMissing = 0;
  #idsMissing = 0;

  constructor(catalog: CompiledCatalog, artworkOf: ArtworkOf, lettering: Lettering) {
    this.#catalog = catalog;
    this.#artworkOf = artworkOf;
    this.#lettering = lettering;
  }

  result(lines: readonly ResolvedLine[]): { readonly lines: readonly ResolvedLine[] } | SlipFaults {
    const faults = this.#faults;
    if (faults.length === 0) return { lines };
    if (this.#idsMissing > 0) return { code: 'unknown-id', faults };
    return { code: this.#artworkMissing > 0 ? 'unknown-artwork' : 'invalid-input', faults };
  }

  known<T>(at: string, id: string, among: ReadonlyMap<string, T>, what: string): T | undefined {
    const found = among.get(id);
    if (found === undefined) {
      this.#idsMissing++;
      this.#faults.push({
        at,
        message: `there is no ${what} "${id}"`,
        value: id,
        allowed: listedIds(new Set(among.keys())),
      });
    }
    return found;
  }

  unique(at: string, entries: readonly { readonly id: string }[]): void {
    if (entries.length < 2) return;
    const seen = new Set<string>();
    entries.forEach(({ id }, index) => {
      if (seen.has(id))
        this.#fault(`${at}.${index}.id`, `the id "${id}" is there twice`, id, 'an id of its own');
      seen.add(id);
    });
  }

  line(line: SlipLine, index: number): ResolvedLine | undefined {
    const at = `lines.${index}`;
    const before = this.#faults.length;
    const finish = this.known(`${at}.finish`, line.finish, this.#catalog.finishes, 'finish');
    if (line.method !== undefined)
      this.known(`${at}.method`, line.method, this.#catalog.methodIndex, 'method');
    const blank = this.known(`${at}.blank`, line.blank, this.#catalog.blanks, 'blank');
    if (blank === undefined) return undefined;
    const cloth = this.known(`${at}.color`, line.color, blank.cloths, `color of "${line.blank}"`);
    const sizes: string[] = [];
    line.counts.forEach(({ size }, place) => {
      this.known(`${at}.counts.${place}.size`, size, blank.sizes, `size of "${line.blank}"`);
      if (sizes.includes(size))
        this.#fault(`${at}.counts.${place}.size`, `size "${size}" is there twice`, size, 'each size once');
      else sizes.push(size);
    });
    const prints = this.#prints(line, at, blank);
    if (this.#faults.length > before || cloth === undefined || finish === undefined) return undefined;
    return { index, line, blank, cloth, finish, pieces: piecesOf(line), sizes, prints };
  }

  #prints(line: SlipLine, at: string, blank: CompiledBlank): Print[] {
    const prints: Print[] = [];
    this.unique(`${at}.placements`, line.placements);
    line.placements.forEach((placement, place) => {
      const here = `${at}.placements.${place}`;
      const face = this.known(`${here}.face`, placement.face, blank.faces, `face of "${line.blank}"`);
      const artwork = this.#artworkOf(placement.artwork, placement.remedies);
      if (artwork === undefined) {
        this.#artworkMissing++;
        this.#fault(
          `${here}.artwork`,
          'the artwork is not known here',
          placement.artwork,
          'an artwork sent before',
        );
      }
      if (face !== undefined && artwork !== undefined)
        prints.push(printOfArtwork(placement, face, artwork, here));
    });
    const { names } = line;
    if (names === undefined) return prints;
    const here = `${at}.names`;
    const face = this.known(`${here}.face`, names.face, blank.faces, `face of "${line.blank}"`);
    if (line.placements.some(({ id }) => id === names.id))
      this.#fault(`${here}.id`, `the id "${names.id}" is there twice`, names.id, 'an id of its own');
    this.#namesFit(line, here);
    if (!this.#canBeSet(names, here)) return prints;
    if (face !== undefined) prints.push(printOfNames(names, face, this.#lettering, here));
    return prints;
  }

  /** Whether there is the face of type, and it has every letter. */
  #canBeSet({ font, entries }: NamesPlacement, here: string): boolean {
    const { fonts, missing } = this.#lettering;
    if (fonts !== undefined && !fonts.includes(font)) {
      this.known(`${here}.font`, font, new Map(fonts.map((id) => [id, id])), 'face of type');
      return false;
    }
    const before = this.#faults.length;
    entries.forEach(({ text }, place) => {
      const lacking = missing?.(text, font) ?? [];
      if (lacking.length > 0)
        this.#fault(
          `${here}.entries.${place}.text`,
          `the face of type "${font}" lacks ${lacking.map(spelled).join(', ')}`,
          text,
          'Latin letters, digits and common signs',
        );
    });
    return this.#faults.length === before;
  }

  /** One name for every piece of every size, no more and no fewer. */
  #namesFit(line: SlipLine, here: string): void {
    const named = new Map<string, number>();
    line.names!.entries.forEach(({ size }, place) => {
      named.set(size, (named.get(size) ?? 0) + 1);
      if (!line.counts.some((entry) => entry.size === size))
        this.#fault(
          `${here}.entries.${place}.size`,
          `the line has no pieces of size "${size}"`,
          size,
          `one of: ${line.counts.map((entry) => entry.size).join(', ')}`,
        );
    });
    for (const { size, count } of line.counts) {
      const have = named.get(size) ?? 0;
      if (have !== count)
        this.#fault(
          `${here}.entries`,
          `there are ${have} names for ${count} pieces of size "${size}"`,
          have,
          `${count} names of size "${size}", one for each piece`,
        );
    }
  }

  #fault(at: string, message: string, value: unknown, allowed: string): void {
    this.#faults.push({ at, message, value, allowed });
  }
}

/** A letter as it can be read in a message, even one that shows nothing or turns the text around. */
function spelled(letter: string): string {
  const code = `U+${letter.codePointAt(0)!.toString(16).toUpperCase().padStart(4, '0')}`;
  return /^[\p{L}\p{N}\p{P}\p{S}]$/u.test(letter) ? `"${letter}" (${code})` : code;
}
