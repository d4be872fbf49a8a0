/** The part of lcms-wasm that the tests use; the package brings no types. */
declare module 'lcms-wasm' {
  /** A handle of the engine. */
  type Handle = number;

  export type Engine = {
    cmsOpenProfileFromMem(bytes: Uint8Array, length: number): Handle;
    cmsCreateLab4Profile(): Handle;
    cmsFormatterForColorspaceOfProfile(profile: Handle, bytes: number, isFloat: boolean): number;
    cmsCreateTransform(
      from: Handle,
      fromType: number,
      to: Handle,
      toType: number,
      intent: number,
      flags: number,
    ): Handle;
    cmsDoTransform(
      transform: Handle,
      input: Uint8Array | Uint16Array,
      count: number,
    ): Float32Array | Uint8Array | Uint16Array;
  };

  export function instantiate(): Promise<Engine>;

  export const TYPE_CMYK_8: number;
  export const TYPE_CMYK_16: number;
  export const cmsFLAGS_BLACKPOINTCOMPENSATION: number;
  export const cmsFLAGS_NOCACHE: number;
}
