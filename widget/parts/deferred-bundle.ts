import { detailStyles } from '../styles/details.ts';
import { modeStyles } from '../styles/modes.ts';

export { Placing } from '../artwork/artwork-placer.ts';
/** What is fetched once the customer has begun, in one piece: together these weigh less than apart. */
export * as fileKeeper from '../artwork/file-storage.ts';
export * as namePicture from '../artwork/name-picture.ts';
export { ShownNames } from '../artwork/name-preview.ts';
export * as readInWorker from '../artwork/read-in-worker.ts';
export { sendFile } from '../artwork/upload-file.ts';
export * as readCounts from '../draft/read-counts.ts';
export { OrderingController as Ordering } from '../shop/order-controller.ts';
export * as why from './foot/reasons.ts';
export * as order from './order/order-form.ts';
export * as status from './order/order-status.ts';
export * as placement from './placement/placement.ts';
export * as days from './rows/calendar.ts';
export * as names from './rows/names-row.ts';
export * as ladder from './rows/price-ladder.ts';
export { redraw } from './stable-redraw.ts';

/** How the slip looks in other modes comes last, to win over the rest. */
export const styles = [detailStyles, modeStyles];
