import { html, nothing, type TemplateResult } from 'lit';
import type { NamesPlacement } from '../../src/contract/index.ts';
import { type DraftLine, piecesIn } from '../controllers/draft.ts';
import { countsOfNames, readNames } from '../controllers/read-names.ts';
import type { SlipContext } from './context.ts';
import { faultPlace, judge } from './field-fault.ts';

/** A first list: the numbers 1, 2, 3 … on the back, or the first face there is. */
export function startNames(ctx: SlipContext, line: DraftLine): void {
  const blank = ctx.blankOf(line);
  const font = ctx.catalog.fonts[0];
  const face = blank?.faces.find((entry) => entry.id === 'back') ?? blank?.faces[0];
  if (!blank || !face || !font) return;
  const pieces = line.counts.flatMap(({ size, count }) => Array.from({ length: count }, () => size));
  const sizes = pieces.length > 0 ? pieces : [blank.sizes[0]!.id];
  const names: NamesPlacement = {
    id: 'names',
    face: face.id,
    font: font.id,
    hex: '#1b1b1d',
    xMm: 0,
    yMm: Math.min(60, Math.round(face.heightMm / 3)),
    angleDeg: 0,
    capHeightMm: Math.max(3, Math.min(50, Math.round(face.heightMm / 4))),
    widthMm: Math.max(5, Math.min(260, Math.round(face.widthMm * 0.8))),
    entries: sizes.map((size, index) => ({ size, text: String(index + 1) })),
  };
  const order = blank.sizes.map((size) => size.id);
  ctx.changeLine(line.id, (old) => withNames(old, names, order));
}

/** Names or numbers, one per piece: typed, pasted or from a CSV file. The list sets the counts. */
export function namesRow(ctx: SlipContext, line: DraftLine): TemplateResult | typeof nothing {
  const blank = ctx.blankOf(line);
  const { fonts } = ctx.catalog;
  if (!blank) return nothing;
  const { ui } = ctx.words;
  const names = line.names;
  if (!names) return nothing;
  const sizes = blank.sizes.map((size) => ({
    id: size.id,
    names: [size.id, ctx.text(size.name), typeof size.name === 'string' ? size.name : (size.name.en ?? '')],
  }));
  const order = blank.sizes.map((size) => size.id);
  const set = (change: Partial<NamesPlacement>, group?: string): void =>
    ctx.changeLine(line.id, (old) => withNames(old, { ...(old.names ?? names), ...change }, order), group);
  const take = (text: string, field?: HTMLTextAreaElement): void => {
    const read = readNames(text, sizes, names.entries[0]?.size ?? order[0]!);
    if (field) {
      judge(field, read.faults.map((fault) => ui(`names-${fault.code}`, fault)).join(' '));
    }
    if (read.entries.length > 0) set({ entries: read.entries }, `names ${line.id}`);
  };
  const text = names.entries.map((entry) => `${entry.text}\t${entry.size.toUpperCase()}`).join('\n');
  return html`<div class="row" role="group" aria-label=${ui('names')} part="names">
    <div class="row-title">${ui('names')}<span class="leader"></span
      ><span class="chosen">${ui('pieces', { count: piecesIn(line) })}</span></div>
    <div class="stack">
      <label>${ui('names-list')}
        <textarea class="field" rows="5" spellcheck="false" ?disabled=${ctx.disabled} .value=${text}
          @change=${(event: Event) => take((event.target as HTMLTextAreaElement).value, event.target as HTMLTextAreaElement)}></textarea></label>
      ${faultPlace(`faults-names-${line.id}`)}
      <div class="figures">
        <label>${ui('face')}<select class="field" ?disabled=${ctx.disabled}
          @change=${(event: Event) => set({ face: (event.target as HTMLSelectElement).value })}>
          ${blank.faces.map((face) => html`<option value=${face.id} ?selected=${face.id === names.face}>${ctx.text(face.name)}</option>`)}</select></label>
        <label>${ui('font')}<select class="field" ?disabled=${ctx.disabled}
          @change=${(event: Event) => set({ font: (event.target as HTMLSelectElement).value })}>
          ${fonts.map((font) => html`<option value=${font.id} ?selected=${font.id === names.font}>${ctx.text(font.name)}</option>`)}</select></label>
        <label>${ui('color')}<input class="field" type="color" ?disabled=${ctx.disabled} .value=${names.hex}
          @change=${(event: Event) => set({ hex: (event.target as HTMLInputElement).value })} /></label>
      </div>
      <div class="acts">
        <button class="plain" type="button" ?disabled=${ctx.disabled}
          @click=${(event: Event) => ((event.currentTarget as Element).nextElementSibling as HTMLInputElement).click()}>${ui('names-file')}</button>
        <input class="sr" type="file" tabindex="-1" aria-hidden="true" accept=".csv,.tsv,.txt,text/csv,text/plain"
          @change=${async (event: Event) => {
            const field = event.target as HTMLInputElement;
            const file = field.files?.[0];
            if (file && file.size < 1_000_000) take(await file.text());
            field.value = '';
          }} />
        <button class="plain" type="button" ?disabled=${ctx.disabled}
          @click=${() => ctx.changeLine(line.id, (old) => ({ ...old, names: null }))}>${ui('remove')}</button>
      </div>
    </div>
  </div>`;
}

function withNames(line: DraftLine, names: NamesPlacement, order: readonly string[]): DraftLine {
  return { ...line, names, counts: countsOfNames(names.entries, order) };
}
