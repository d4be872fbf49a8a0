/** Zeros of the digits people type that are not 0 to 9 and that NFKC leaves alone: Arabic and Persian. */
const ZEROS = [0x660, 0x6f0];

/** Text with full-width, Arabic and Persian digits as 0 to 9, without space around it; 5² is not 52. */
export function plainDigits(text: string): string {
  return text
    .normalize(/[²³¹⁰-₉]/.test(text) ? 'NFC' : 'NFKC')
    .replace(/\p{Nd}/gu, (digit) => {
      const code = digit.codePointAt(0)!;
      const zero = ZEROS.find((start) => code >= start && code < start + 10);
      return zero === undefined ? digit : String(code - zero);
    })
    .trim();
}

/** A whole number from 0 to `most` in any digits; null for anything else. */
export function wholeNumber(text: string, most: number): number | null {
  const plain = plainDigits(text);
  return /^\d{1,9}$/.test(plain) && Number(plain) <= most ? Number(plain) : null;
}
