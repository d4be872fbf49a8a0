export {};

declare global {
  /** Made by the build: an export of each matching module, loaded when called. */
  interface ImportMeta {
    glob<Export>(
      pattern: string,
      options: { readonly import: string },
    ): Record<string, () => Promise<Export>>;
  }
}
