/** An ISO 8601 calendar day in the shop's time zone, such as `2026-03-08`. */
export type Day = string;

/** A time on the shop's clock, `HH:MM` from `00:00` to `24:00` (`24:00` only as an end). */
export type ClockTime = string;

/** An instant: whole seconds since 1970-01-01T00:00:00Z, leap seconds not counted. */
export type EpochS = number;
