import { ShopProblem } from '../shop/shop-api.ts';

/**
 * The files that the slip loads by address: the script of its worker and the faces of type. Not every bundler copies them
 * beside the scripts, so a page may say where they are.
 */
export class Assets {
  readonly #base: () => string;
  readonly #failed: (problem: ShopProblem) => void;
  readonly #reported = new Set<string>();

  /**
   * @param base address of the folder with `workers/` and `fonts/`, absolute or relative to the page; empty: beside the
   * scripts
   * @param failed told once of each file that did not load
   */
  constructor(base: () => string, failed: (problem: ShopProblem) => void) {
    this.#base = base;
    this.#failed = failed;
  }

  /**
   * The absolute address of a file.
   *
   * @param path in the folder of the page
   * @param bundled where the bundler put it; some write that relative to the page
   */
  address(path: string, bundled: string): string {
    const base = this.#base();
    if (base === '') return new URL(bundled, location.href).href;
    return new URL(path, new URL(base.endsWith('/') ? base : `${base}/`, location.href)).href;
  }

  /** Reports a file that did not load, because it is not there or the page's policy forbids it. */
  report(address: string): void {
    if (this.#reported.has(address)) return;
    this.#reported.add(address);
    this.#failed(new ShopProblem('asset-unavailable', `${address} did not load; see the property "assets"`));
  }
}
