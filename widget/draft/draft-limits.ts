/** Most pieces of a size on a line, as in the contract; repeated here to keep zod out of the page. */
export const COUNT_MAX = 10_000;
/** Most lines on a slip. */
export const LINES_MAX = 50;
/** Most placements on a line. */
export const PLACEMENTS_MAX = 8;
