/** The page the reader tests drive. */
import { ArtworkReader } from '../../../widget/artwork/artwork-reader.ts';
import workerUrl from '../../../widget/artwork/artwork-worker.ts?worker&url';
import { startWorker } from '../../../widget/artwork/start-worker.ts';

const start = () => startWorker(new URL(workerUrl, location.href).href, 'artwork');

const tools = {
  ArtworkReader: class extends ArtworkReader {
    constructor(make: () => Worker = start) {
      super(make);
    }
  },
};
declare global {
  interface Window {
    reading: typeof tools;
  }
}
window.reading = tools;
