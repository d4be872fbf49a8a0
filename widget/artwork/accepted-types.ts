/** File types the shop can read, for a file input's `accept`. */
export const ACCEPTED =
  '.png,.jpg,.jpeg,.webp,.avif,.tif,.tiff,.gif,.svg,.pdf,image/png,image/jpeg,image/webp,image/avif,image/tiff,image/gif,image/svg+xml,application/pdf';
