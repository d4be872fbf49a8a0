import { z } from 'zod';

/** Longest identifier, in characters. */
export const ID_MAX = 40;

/**
 * An identifier chosen by an owner or a widget: lower-case letters, digits and hyphens, 1 to 40 characters, starting with
 * a letter or digit. The pattern excludes names such as `__proto__`.
 */
export const Id = z
  .string()
  .regex(
    /^[a-z0-9][a-z0-9-]{0,39}$/,
    'an id is 1 to 40 of a-z, 0-9 and "-", starting with a letter or digit',
  );

/** A content hash: 64 lower-case hexadecimal digits (SHA-256). */
export const Sha256 = z.string().regex(/^[0-9a-f]{64}$/, 'a content hash is 64 hexadecimal digits');

/** A color as `#rrggbb`, lower or upper case. */
export const Hex = z.string().regex(/^#[0-9a-fA-F]{6}$/, 'a color is written #rrggbb');

/** A real calendar day, `YYYY-MM-DD`, in the shop's time zone. `2026-02-29` is refused. */
export const Day = z.iso.date();

/** An instant in UTC, `YYYY-MM-DDTHH:MM:SS(.sss)Z`. */
export const Instant = z.iso.datetime();

/**
 * A text for display: one string, or one for each language (BCP 47 tag) with at least `en`. `pickText` selects one.
 */
export const LocalText = z.union([
  z.string().trim().min(1).max(400),
  z
    .record(z.string().regex(/^[a-z]{2,3}(-[A-Za-z0-9]{2,8})*$/), z.string().trim().min(1).max(400))
    .refine((texts) => typeof texts.en === 'string', 'a text by language needs at least "en"'),
]);
export type LocalText = string | { readonly [language: string]: string };
