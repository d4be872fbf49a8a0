import { detailStyles } from './styles/details.ts';
import { modeStyles } from './styles/modes.ts';

export * as namePicture from './artwork/name-picture.ts';
export { NamePreviews } from './artwork/names/name-preview.ts';
// Loaded once the customer has begun, as one file: together these modules weigh a fifth less than apart.
export { ArtworkPlacer } from './artwork/placing/artwork-placer.ts';
export * as readInWorker from './artwork/read-in-worker.ts';
export * as fileStorage from './artwork/upload/file-storage.ts';
export { uploadFile } from './artwork/upload/upload-file.ts';
export * as readCounts from './draft/tables/read-counts.ts';
export * as reasons from './parts/foot/reasons.ts';
export * as orderForm from './parts/order/order-form.ts';
export * as orderStatus from './parts/order/order-status.ts';
export * as placement from './parts/placement/placement.ts';
export * as calendar from './parts/rows/calendar.ts';
export * as names from './parts/rows/names-row.ts';
export * as ladder from './parts/rows/price-ladder.ts';
export { redraw } from './parts/stable-redraw.ts';
export { OrderController } from './shop/order-controller.ts';

/** Styles for other modes (print, forced colors) come last, to win over the rest. */
export const styles = [detailStyles, modeStyles];
