import { pickText } from '../pick-text.ts';
import type { RoutedLine } from '../routing/routed.ts';

/** What a care card adds to the blank's label. Words only: care symbols are protected in many countries. */
export type CareNote =
  | { readonly code: 'wash-inside-out' }
  | { readonly code: 'do-not-iron-print' }
  | { readonly code: 'do-not-scrub-print' }
  | { readonly code: 'expect-washes'; readonly cycles: number };

/** The care card for the pieces of a line. */
export type CareCard = {
  readonly line: string;
  readonly blank: string;
  /** the blank's care label, word for word. It comes first: its manufacturer knows the cloth. */
  readonly label: readonly string[];
  readonly notes: readonly CareNote[];
  /** label and notes as lines of text; the notes are in English. */
  readonly text: readonly string[];
};

/**
 * Writes the care card of a line: the blank's label, then the notes for its prints. The expected number of washes is
 * that of the shortest-lived print, as the catalog states it; it is an estimate, not a guarantee.
 *
 * @param language of the label, if the catalog has it
 */
export function careCard({ line, blank, placements }: RoutedLine, language: string): CareCard {
  const label = blank.care.map((text) => pickText(text, language));
  const notes: CareNote[] = [];
  if (placements.some(({ face }) => face.surface === 'cylinder')) notes.push({ code: 'do-not-scrub-print' });
  else if (placements.length > 0) notes.push({ code: 'wash-inside-out' }, { code: 'do-not-iron-print' });
  const cycles = Math.floor(
    placements.reduce(
      (least, { qualities }) => Math.min(least, qualities.washLifeCycles),
      Number.POSITIVE_INFINITY,
    ),
  );
  if (Number.isFinite(cycles) && cycles > 0) notes.push({ code: 'expect-washes', cycles });
  return {
    line: line.id,
    blank: pickText(blank.name, language),
    label,
    notes,
    text: [...label, ...notes.map(noteText)],
  };
}

function noteText(note: CareNote): string {
  switch (note.code) {
    case 'wash-inside-out':
      return 'Wash inside out; the print lasts longer.';
    case 'do-not-iron-print':
      return 'Do not iron on the print.';
    case 'do-not-scrub-print':
      return 'Do not scrub the print; soft sponge only.';
    case 'expect-washes':
      return `Expect the print to look well for about ${note.cycles} washes with such care.`;
  }
}
