/** Types for the parts of opentype.js that we use; it has none of its own. */
declare module 'opentype.js' {
  export type PathCommand =
    | { readonly type: 'M' | 'L'; readonly x: number; readonly y: number }
    | { readonly type: 'Q'; readonly x1: number; readonly y1: number; readonly x: number; readonly y: number }
    | {
        readonly type: 'C';
        readonly x1: number;
        readonly y1: number;
        readonly x2: number;
        readonly y2: number;
        readonly x: number;
        readonly y: number;
      }
    | { readonly type: 'Z' };
  export type Glyph = {
    readonly unicodes?: readonly number[];
    readonly advanceWidth?: number;
    readonly path: {
      readonly commands: readonly PathCommand[];
      getBoundingBox(): {
        readonly x1: number;
        readonly y1: number;
        readonly x2: number;
        readonly y2: number;
      };
    };
  };
  export type Font = {
    readonly unitsPerEm: number;
    readonly glyphs: { readonly length: number; get(index: number): Glyph };
    charToGlyph(char: string): Glyph;
    /** 0 if the font lacks the letter. */
    charToGlyphIndex(char: string): number;
  };
  const opentype: { parse(bytes: ArrayBuffer): Font };
  export default opentype;
}
