export {};

declare global {
  /** What the build makes of a glob: each matching module, loaded when called. */
  interface ImportMeta {
    glob<Module>(
      patterns: string | readonly string[],
      options?: { readonly query?: string },
    ): Record<string, () => Promise<Module>>;
  }
}
