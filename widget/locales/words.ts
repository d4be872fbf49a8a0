import type { Finding, Reason } from '../../src/contract/index.ts';
import type { DetailKey, LateWord, UiKey, Values } from './index.ts';

/** The messages of the chosen language: of the interface, and a sentence for each code of the API. */
export type Words = {
  /** a word or sentence of the interface. */
  ui(key: UiKey | DetailKey, values?: Values): string;
  reason(reason: Reason): string;
  finding(finding: Finding): string;
  remedy(kind: string): string;
  charge(code: string, values: Values): string;
  problem(code: string): string;
  state(state: string): string;
  late(code: LateWord): string;
  note(code: string, values: Values): string;
};
