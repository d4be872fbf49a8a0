/** The page the reader tests drive. */
import { ArtworkReader } from '../../../widget/artwork/artwork-reader.ts';

const tools = { ArtworkReader };
declare global {
  interface Window {
    reading: typeof tools;
  }
}
window.reading = tools;
