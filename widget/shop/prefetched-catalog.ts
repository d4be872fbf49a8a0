/** A catalog request made by the script for pages while the slip's code was loading. */
export type EarlyAnswer = {
  readonly address: string;
  readonly answer: Promise<Response>;
};

/**
 * A slip on the page before its code has loaded: the properties the page may have set on it, and the request made for it.
 * The request is kept on the element, so that of several copies of the script only the first makes one.
 */
export type EarlySlip = HTMLElement & {
  readonly api?: string;
  readonly shop?: string;
  platenEarly?: EarlyAnswer;
};
