/** Most pieces of one size on one line, as the contract has it; repeated here so that zod stays out of the page. */
export const COUNT_MAX = 10_000;
/** Most lines on one slip, likewise. */
export const LINES_MAX = 50;
/** Most placements on one piece, likewise. */
export const PLACEMENTS_MAX = 8;
