/** Customers' files: identified, read in separate processes, and stored by content hash. */
export { contentHash, type FileStore, openFileStore } from './file-store.ts';
export { type FileKind, KIND_NAMES } from './kind.ts';
export { DEFAULT_READ_LIMITS, type ReadLimits } from './limits.ts';
export {
  openPartialUploads,
  type PartChecksum,
  type PartialLimits,
  type PartialUploads,
  TruncatedBodyError,
  type UploadState,
} from './partial-uploads.ts';
export { PREVIEW_SIDE_PX } from './png.ts';
export { type FilePool, type FilePoolOptions, openFilePool, type ReadArtwork } from './pool.ts';
export {
  PROOF_SIDE_PX,
  type ProofDrawing,
  type ProofPlacement,
  type ProofRequest,
  type ProofShape,
} from './proof.ts';
export { type FileRefusal, isRefusal, type RefusalCode, SENDABLE_KINDS } from './refusal.ts';
