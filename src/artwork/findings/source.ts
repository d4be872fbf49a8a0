import type { Finding, Severity, SourceInfo, SourceNote } from '../../contract/facts.ts';
import type { ArtworkLimits } from '../limits.ts';

/** Severity of each note about the file, the same for every method. */
const SEVERITY: Record<SourceNote['code'], Severity> = {
  'turned-by-metadata': 'note',
  'cmyk-converted': 'warning',
  'wide-gamut-converted': 'note',
  'sixteen-bit-reduced': 'note',
  'first-frame-only': 'warning',
  'first-page-only': 'warning',
  'missing-font': 'warning',
  'no-size-in-file': 'note',
  'external-reference-dropped': 'warning',
  'active-content-dropped': 'note',
  'name-does-not-match': 'note',
  reduced: 'note',
};

/** One finding for each note about the file; `params` has the code of the note as `note`, and its figures. */
export function sourceFindings(source: SourceInfo | undefined, methods: readonly ArtworkLimits[]): Finding[] {
  return (source?.notes ?? []).map((note) => {
    const { code, ...figures } = note;
    const params: Finding['params'] = { note: code };
    for (const [name, value] of Object.entries(figures)) if (value !== null) params[name] = value;
    const worst = SEVERITY[code];
    return {
      code: 'source-note',
      severity: Object.fromEntries(methods.map((method) => [method.id, worst])),
      worst,
      box: null,
      params,
      remedies: [],
    };
  });
}
