import { pickText } from '../pick-text.ts';
import type { RoutedLine } from '../routing/routed.ts';

/** What a care card says beside the blank's own words. Plain words only: care symbols are protected in many countries. */
export type CareNote =
  | { readonly code: 'wash-inside-out' }
  | { readonly code: 'do-not-iron-print' }
  | { readonly code: 'do-not-scrub-print' }
  | { readonly code: 'expect-washes'; readonly cycles: number };

/** The card that goes with the pieces of a line. */
export type CareCard = {
  readonly line: string;
  readonly blank: string;
  /** the blank's care label, word for word. It comes first: its maker knows the cloth. */
  readonly label: readonly string[];
  readonly notes: readonly CareNote[];
  /** label and notes as plain lines of text, English but for the label. */
  readonly text: readonly string[];
};

/**
 * Writes the care card of a line: the words of the blank's own label, then what its prints ask for. The washes to expect
 * are those of its shortest-lived print: what the shop's recipe states, an expectation and no promise.
 *
 * @param language of the label, where the catalog has it
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
