/** What the script for pages asked of a shop while the slip's code was still on its way. */
export type EarlyAnswer = {
  readonly address: string;
  readonly answer: Promise<Response>;
};

/**
 * A slip on the page before its code came: what the page may have set on it by then, and where that script leaves what
 * it asked for. It stands on the element, so that of several copies of the script only the first asks.
 */
export type EarlySlip = HTMLElement & {
  readonly api?: string;
  readonly shop?: string;
  platenEarly?: EarlyAnswer;
};
