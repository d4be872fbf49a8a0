import { html, nothing, type TemplateResult } from 'lit';
import type { NamesPlacement } from '../../../src/contract/index.ts';
import { type DraftLine, sizesWithWrongNames } from '../../draft/draft.ts';
import { assignSizes, countNamesBySize, parseNames } from '../../draft/tables/read-names.ts';
import { readTextFile } from '../../draft/tables/read-text-file.ts';
import type { SlipContext } from '../context.ts';
import { fieldErrors } from '../fields/field-error.ts';
import { noticePart } from '../fields/notice.ts';
import { angleField, lengthField } from '../fields/number-field.ts';
import { namedSizes } from './size-row.ts';

export { startNames } from './start-names.ts';

/** How many faults of a list are described one by one; the rest is counted. */
const FAULTS_SHOWN = 5;
/** Largest file a list is read from, bytes. */
const FILE_BYTES_MAX = 1_000_000;

/** Names or numbers, one per piece: typed, pasted or read from a CSV file. */
export function namesRow(ctx: SlipContext, line: DraftLine): TemplateResult | typeof nothing {
  const blank = ctx.blankOf(line);
  const { names } = line;
  if (!blank || !names) return nothing;
  const { ui } = ctx.words;
  const order = blank.sizes.map((size) => size.id);
  const noticeKey = `names ${line.id}`;
  const set = (change: Partial<NamesPlacement>): void =>
    ctx.editLine(line.id, (old) => ({ ...old, names: { ...(old.names ?? names), ...change } }));

  const setList = (text: string): void => {
    const parsed = parseNames(text, namedSizes(ctx, blank));
    const shown = parsed.faults.slice(0, FAULTS_SHOWN).map((fault) => ui(`names-${fault.code}`, fault));
    const more = parsed.faults.length - shown.length;
    ctx.setNotice(
      noticeKey,
      [...shown, ...(more > 0 ? [ui('rows-refused', { count: more })] : [])].join('\n'),
    );
    if (parsed.entries.length === 0) return;
    ctx.editLine(line.id, (old) => {
      const entries = assignSizes(parsed.entries, old.counts, order[0]!);
      const counts = old.counts.length > 0 ? old.counts : countNamesBySize(entries, order);
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
          @change=${(event: Event) => setList((event.target as HTMLTextAreaElement).value)}
          @paste=${(event: ClipboardEvent) => {
            const field = event.currentTarget as HTMLTextAreaElement;
            const pasted = event.clipboardData?.getData('text/plain') ?? '';
            // A list pasted over the whole text, or over the initial numbers, is read at once; a single word is typing.
            const all = field.selectionEnd - field.selectionStart >= field.value.length;
            const numbers = names.entries.every((entry, index) => entry.text === String(index + 1));
            if (!/[\n\t]/.test(pasted.trim()) || !(all || numbers)) return;
            event.preventDefault();
            setList(pasted);
          }}></textarea></label>
      ${noticePart(ctx, noticeKey)} ${mismatchPart(ctx, line, sizeName, order)}
      <div class="acts">
        <button class="plain" type="button" ?disabled=${ctx.disabled}
          @click=${(event: Event) => ((event.currentTarget as Element).nextElementSibling as HTMLInputElement).click()}>${ui('names-file')}</button>
        <input class="sr" type="file" tabindex="-1" aria-hidden="true" accept=".csv,.tsv,.txt,text/csv,text/plain"
          @change=${async (event: Event) => {
            const field = event.target as HTMLInputElement;
            const file = field.files?.[0];
            if (file && file.size > FILE_BYTES_MAX)
              ctx.setNotice(noticeKey, ui('names-file-large', { bytes: FILE_BYTES_MAX }));
            else if (file) setList(await readTextFile(file));
            field.value = '';
          }} />
        <button class="plain" type="button" ?disabled=${ctx.disabled} aria-label=${`${ui('remove')}: ${ui('names')}`}
          @click=${() => ctx.editLine(line.id, (old) => ({ ...old, names: null }))}>${ui('remove')}</button>
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
      ${fieldErrors(`faults-names-${line.id}`)}
      ${shownNamePart(ctx, line, names)}
    </div>
  </div>`;
}

/** The sizes with more or fewer names than pieces, and a button that sets the pieces. */
function mismatchPart(
  ctx: SlipContext,
  line: DraftLine,
  sizeName: (id: string) => string,
  order: readonly string[],
): TemplateResult {
  const { ui } = ctx.words;
  const mismatches = sizesWithWrongNames(line);
  return html`<div class=${mismatches.length > 0 ? 'alert quiet' : ''} role="status" part="names-off">${
    mismatches.length > 0
      ? html`${mismatches.map((entry) => html`<div>${ui('names-off', { ...entry, size: sizeName(entry.size) })}</div>`)}
          <button class="plain" type="button" ?disabled=${ctx.disabled}
            @click=${() =>
              ctx.editLine(line.id, (old) => ({
                ...old,
                counts: countNamesBySize(old.names?.entries ?? [], order),
              }))}>${ui('names-set-pieces', { count: line.names?.entries.length })}</button>`
      : nothing
  }</div>`;
}

/** Which of the names the drawing shows, and a button for the next. */
function shownNamePart(ctx: SlipContext, line: DraftLine, names: NamesPlacement): TemplateResult {
  const { ui } = ctx.words;
  const index = ctx.shownName(line.id) % names.entries.length;
  return html`<div class="acts"><span class="note">${ui('name-shown', {
    name: names.entries[index]?.text,
    number: index + 1,
    count: names.entries.length,
  })}</span>
    <button class="plain" type="button" ?disabled=${names.entries.length < 2}
      @click=${() => {
        ctx.activate(line.id, names.face, names.id);
        ctx.showName(line.id, index + 1);
      }}>${ui('name-next')}</button></div>`;
}
