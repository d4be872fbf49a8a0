/** Code points of the zeros NFKC does not map to ASCII: Arabic and Persian. */
const ZEROS = [0x660, 0x6f0];

/** Text, trimmed, with full-width, Arabic and Persian digits as 0 to 9. Superscripts and subscripts stay: 5² is not 52. */
export function toAsciiDigits(text: string): string {
  return text
    .normalize(/[²³¹⁰-₉]/.test(text) ? 'NFC' : 'NFKC')
    .replace(/\p{Nd}/gu, (digit) => {
      const code = digit.codePointAt(0)!;
      const zero = ZEROS.find((start) => code >= start && code < start + 10);
      return zero === undefined ? digit : String(code - zero);
    })
    .trim();
}

/** A whole number from 0 to `most`, in any of these digits; null for anything else. */
export function parseWholeNumber(text: string, most: number): number | null {
  const plain = toAsciiDigits(text);
  return /^\d{1,9}$/.test(plain) && Number(plain) <= most ? Number(plain) : null;
}
