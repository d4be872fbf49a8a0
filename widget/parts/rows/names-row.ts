import { html, nothing, type TemplateResult } from 'lit';
import type { NamesPlacement } from '../../../src/contract/index.ts';
import { type DraftLine, nameShown, namesOff, piecesIn } from '../../draft/draft.ts';
import { countsOfNames, readNames, sizedNames } from '../../draft/read-names.ts';
import { memoPart, type SlipContext } from '../context.ts';
import { faultPlace } from '../fields/field-error.ts';
import { angleField, lengthField } from '../fields/number-field.ts';
import { namedSizes } from './size-row.ts';

/** Faults of a list that are named one by one; the rest is counted. */
const FAULTS_NAMED = 5;
/** Largest file a list is read from, bytes. */
const FILE_MOST = 1_000_000;

/** A first list: the numbers 1, 2, 3 … on the back, or the first face there is. */
export function startNames(ctx: SlipContext, line: DraftLine): void {
  const blank = ctx.blankOf(line);
  const font = ctx.catalog.fonts[0];
  const face = blank?.faces.find((entry) => entry.id === 'back') ?? blank?.faces[0];
  if (!blank || !face || !font) return;
  const first = blank.sizes[0]!.id;
  const count = Math.max(1, piecesIn(line));
  const entries = sizedNames(
    Array.from({ length: count }, (_, index) => ({ text: String(index + 1), size: null })),
    line.counts,
    first,
  );
  const capHeightMm = Math.max(3, Math.min(50, Math.round(face.heightMm / 4)));
  const names: NamesPlacement = {
    id: 'names',
    face: face.id,
    font: font.id,
    hex: isDark(blank.colors.find((color) => color.id === line.color)?.hex ?? '#ffffff')
      ? '#ffffff'
      : '#1b1b1d',
    xMm: 0,
    yMm: Math.min(60, Math.round(face.heightMm / 2)),
    angleDeg: 0,
    capHeightMm,
    widthMm: Math.max(5, Math.min(260, Math.round(face.widthMm * 0.8))),
    entries,
  };
  ctx.changeLine(line.id, (old) => ({
    ...old,
    names,
    counts: old.counts.length > 0 ? old.counts : countsOfNames(entries, [first]),
  }));
  ctx.activate(line.id, face.id, names.id);
}

/** Whether white letters stand out better than black ones. */
function isDark(hex: string): boolean {
  const [red = 0, green = 0, blue = 0] = [1, 3, 5].map((at) => Number.parseInt(hex.slice(at, at + 2), 16));
  return red * 0.3 + green * 0.59 + blue * 0.11 < 128;
}

/** Names or numbers, one per piece: typed, pasted or from a CSV file; set where and as high as the customer likes. */
export function namesRow(ctx: SlipContext, line: DraftLine): TemplateResult | typeof nothing {
  const blank = ctx.blankOf(line);
  const { names } = line;
  if (!blank || !names) return nothing;
  const { ui } = ctx.words;
  const order = blank.sizes.map((size) => size.id);
  const memo = `names ${line.id}`;
  const set = (change: Partial<NamesPlacement>): void =>
    ctx.changeLine(line.id, (old) => ({ ...old, names: { ...(old.names ?? names), ...change } }));

  const take = (text: string): void => {
    const read = readNames(text, namedSizes(ctx, blank));
    const told = read.faults.slice(0, FAULTS_NAMED).map((fault) => ui(`names-${fault.code}`, fault));
    const more = read.faults.length - told.length;
    ctx.setMemo(memo, [...told, ...(more > 0 ? [ui('rows-refused', { count: more })] : [])].join('\n'));
    if (read.entries.length === 0) return;
    ctx.changeLine(line.id, (old) => {
      const entries = sizedNames(read.entries, old.counts, order[0]!);
      const counts = old.counts.length > 0 ? old.counts : countsOfNames(entries, order);
      return { ...old, counts, names: { ...(old.names ?? names), entries } };
    });
  };
  const sizeName = (id: string): string => ctx.text(blank.sizes.find((size) => size.id === id)?.name ?? id);
  const text = names.entries.map((entry) => `${entry.text}\t${sizeName(entry.size)}`).join('\n');

  return html`<div class="row" role="group" aria-label=${ui('names')} part="names">
    <div class="row-title">${ui('names')}<span class="leader"></span
      ><span class="chosen">${ui('names-count', { count: names.entries.length })}</span></div>
    <div class="stack">
      <label>${ui('names-list')}
        <textarea class="field" rows="5" spellcheck="false" ?disabled=${ctx.disabled} .value=${text}
          @change=${(event: Event) => take((event.target as HTMLTextAreaElement).value)}
          @paste=${(event: ClipboardEvent) => {
            const field = event.currentTarget as HTMLTextAreaElement;
            const pasted = event.clipboardData?.getData('text/plain') ?? '';
            // a list over everything that is there, or over the numbers it began with, is taken at once; a word is typing
            const all = field.selectionEnd - field.selectionStart >= field.value.length;
            const numbers = names.entries.every((entry, index) => entry.text === String(index + 1));
            if (!/[\n\t]/.test(pasted.trim()) || !(all || numbers)) return;
            event.preventDefault();
            take(pasted);
          }}></textarea></label>
      ${memoPart(ctx, memo)} ${offPart(ctx, line, sizeName, order)}
      <div class="acts">
        <button class="plain" type="button" ?disabled=${ctx.disabled}
          @click=${(event: Event) => ((event.currentTarget as Element).nextElementSibling as HTMLInputElement).click()}>${ui('names-file')}</button>
        <input class="sr" type="file" tabindex="-1" aria-hidden="true" accept=".csv,.tsv,.txt,text/csv,text/plain"
          @change=${async (event: Event) => {
            const field = event.target as HTMLInputElement;
            const file = field.files?.[0];
            if (file && file.size > FILE_MOST)
              ctx.setMemo(memo, ui('names-file-large', { bytes: FILE_MOST }));
            else if (file) take(await textOf(file));
            field.value = '';
          }} />
        <button class="plain" type="button" ?disabled=${ctx.disabled} aria-label=${`${ui('remove')}: ${ui('names')}`}
          @click=${() => ctx.changeLine(line.id, (old) => ({ ...old, names: null }))}>${ui('remove')}</button>
      </div>
      <div class="figures">
        <label>${ui('face')}<select class="field" ?disabled=${ctx.disabled}
          @change=${(event: Event) => {
            const face = (event.target as HTMLSelectElement).value;
            set({ face });
            ctx.activate(line.id, face, names.id);
          }}>
          ${blank.faces.map((face) => html`<option value=${face.id} ?selected=${face.id === names.face}>${ctx.text(face.name)}</option>`)}</select></label>
        <label class="wide">${ui('font')}<select class="field" ?disabled=${ctx.disabled}
          @change=${(event: Event) => set({ font: (event.target as HTMLSelectElement).value })}>
          ${ctx.catalog.fonts.map((font) => html`<option value=${font.id} ?selected=${font.id === names.font}>${ctx.text(font.name)}</option>`)}</select></label>
        <label>${ui('color')}<input class="field" type="color" ?disabled=${ctx.disabled} .value=${names.hex}
          @change=${(event: Event) => set({ hex: (event.target as HTMLInputElement).value })} /></label>
        ${lengthField(ctx, ui('cap-height'), names.capHeightMm, 3, 400, (capHeightMm) => set({ capHeightMm }))}
        ${lengthField(ctx, ui('widest'), names.widthMm, 5, 3000, (widthMm) => set({ widthMm }))}
        ${lengthField(ctx, ui('from-center'), names.xMm, -3000, 3000, (xMm) => set({ xMm }))}
        ${lengthField(ctx, ui('from-top'), names.yMm, -3000, 3000, (yMm) => set({ yMm }))}
        ${angleField(ctx, names.angleDeg, (angleDeg) => set({ angleDeg }))}
      </div>
      ${faultPlace(`faults-names-${line.id}`)}
      ${shownPart(ctx, line, names)}
    </div>
  </div>`;
}

/** More or fewer names than pieces, by size, and the way to put it right. */
function offPart(
  ctx: SlipContext,
  line: DraftLine,
  sizeName: (id: string) => string,
  order: readonly string[],
): TemplateResult {
  const { ui } = ctx.words;
  const off = namesOff(line);
  return html`<div class=${off.length > 0 ? 'alert quiet' : ''} role="status" part="names-off">${
    off.length > 0
      ? html`${off.map((entry) => html`<div>${ui('names-off', { ...entry, size: sizeName(entry.size) })}</div>`)}
          <button class="plain" type="button" ?disabled=${ctx.disabled}
            @click=${() =>
              ctx.changeLine(line.id, (old) => ({
                ...old,
                counts: countsOfNames(old.names?.entries ?? [], order),
              }))}>${ui('names-set-pieces', { count: line.names?.entries.length })}</button>`
      : nothing
  }</div>`;
}

/** Which of the names is on the drawing, and the way to the next. */
function shownPart(ctx: SlipContext, line: DraftLine, names: NamesPlacement): TemplateResult {
  const { ui } = ctx.words;
  const at = nameShown(ctx.memo(`shown ${line.id}`), names);
  return html`<div class="acts"><span class="note">${ui('name-shown', {
    name: names.entries[at]?.text,
    number: at + 1,
    count: names.entries.length,
  })}</span>
    <button class="plain" type="button" ?disabled=${names.entries.length < 2}
      @click=${() => {
        ctx.activate(line.id, names.face, names.id);
        ctx.setMemo(`shown ${line.id}`, String(at + 1));
      }}>${ui('name-next')}</button></div>`;
}

/** The text of a file: UTF-8, or UTF-16 by its mark, else Windows-1252, as spreadsheets write. */
async function textOf(file: File): Promise<string> {
  const bytes = new Uint8Array(await file.arrayBuffer());
  const utf16 =
    bytes[0] === 0xff && bytes[1] === 0xfe
      ? 'utf-16le'
      : bytes[0] === 0xfe && bytes[1] === 0xff
        ? 'utf-16be'
        : null;
  try {
    return new TextDecoder(utf16 ?? 'utf-8', { fatal: true }).decode(bytes);
  } catch {
    return new TextDecoder('windows-1252').decode(bytes);
  }
}
