import type { CodeMessages } from './code-messages.ts';
import type { UiKey } from './first/en.ts';
import type { DetailKey } from './later/en.ts';
import type { Line } from './message-format.ts';

/** What a language says from the first sight of the slip on: its file in `first/`. */
export type FirstMessages = {
  /** the direction the language is written in. */
  readonly direction: 'ltr' | 'rtl';
  readonly ui: Readonly<Record<UiKey, Line>>;
};

/** What a language says once the customer has begun: its file in `later/`. */
export type LaterMessages = CodeMessages & {
  readonly details: Readonly<Record<DetailKey, Line>>;
};
