import { detailStyles } from '../styles/details.ts';
import { modeStyles } from '../styles/modes.ts';

/** What is fetched once the customer has begun, in one piece: together these weigh less than apart. */
export * as fileKeeper from '../artwork/file-storage.ts';
export * as namePicture from '../artwork/name-picture.ts';
export { ShownNames } from '../artwork/name-preview.ts';
export { Placing } from '../artwork/placing.ts';
export * as readInWorker from '../artwork/read-in-worker.ts';
export { sendFile } from '../artwork/upload-file.ts';
export * as readCounts from '../draft/read-counts.ts';
export { OrderingController as Ordering } from '../shop/order-controller.ts';
export * as days from './days-part.ts';
export * as ladder from './ladder.ts';
export * as names from './names-row.ts';
export * as order from './order-part.ts';
export * as placement from './placement-part.ts';
export { redraw } from './stable-redraw.ts';
export * as status from './status-part.ts';
export * as why from './why-part.ts';

/** How the slip looks in other modes comes last, to win over the rest. */
export const styles = [detailStyles, modeStyles];
