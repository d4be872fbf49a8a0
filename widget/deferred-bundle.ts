import { storedFile, storeFile } from './artwork/upload/file-storage.ts';
import { parseCounts } from './draft/tables/read-counts.ts';
import { reasonsPart } from './parts/foot/reasons.ts';
import { orderForm as form, orderProblem, placeOrderButton } from './parts/order/order-form.ts';
import { orderStatusPart } from './parts/order/order-status.ts';
import { placementPart } from './parts/placement/placement.ts';
import { calendar as days } from './parts/rows/calendar.ts';
import { namesRow, startNames } from './parts/rows/names-row.ts';
import { priceLadder } from './parts/rows/price-ladder.ts';
import { detailStyles } from './styles/details.ts';
import { modeStyles } from './styles/modes.ts';

// Loaded once the customer has begun, as one file: together these modules weigh a fifth less than apart.
export { nameDrawing } from './artwork/name-picture.ts';
export { NamePreviews } from './artwork/names/name-preview.ts';
export { ArtworkPlacer } from './artwork/placing/artwork-placer.ts';
export { localReader } from './artwork/read-in-worker.ts';
export { uploadFile } from './artwork/upload/upload-file.ts';
export { redraw } from './parts/stable-redraw.ts';
export { OrderController } from './shop/order-controller.ts';

// Plain objects, not `export * as`: module namespaces would need a helper of the bundler, which becomes a file of its
// own that the first load then has to wait for.
export const fileStorage = { storedFile, storeFile };
export const readCounts = { parseCounts };
export const reasons = { reasonsPart };
export const orderForm = { orderForm: form, orderProblem, placeOrderButton };
export const orderStatus = { orderStatusPart };
export const placement = { placementPart };
export const calendar = { calendar: days };
export const names = { namesRow, startNames };
export const ladder = { priceLadder };

/** Styles for other modes (print, forced colors) come last, to win over the rest. */
export const styles = [detailStyles, modeStyles];
