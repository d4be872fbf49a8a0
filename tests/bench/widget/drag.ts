import type { Page } from 'playwright';
import { defineNameHelper } from './define-name-helper.ts';

/** Mouse moves of one drag, each a few px from the last. */
const MOVES = 100;

/** What a page tells of a drag: it calls `moved`, the benchmark the rest. */
export type DragWatch = {
  moved(): void;
  start(): void;
  /** times between frames since `start`, ms, and how often the artwork moved. */
  end(): { readonly frames: number[]; readonly moves: number };
};
declare global {
  interface Window {
    drag: DragWatch;
  }
}

/** Puts `window.drag` into every page that is opened there from now on. */
export async function watchDrags(page: Page): Promise<void> {
  await defineNameHelper(page);
  await page.addInitScript(() => {
    let moves = 0;
    let frames: number[] = [];
    let running = false;
    window.drag = {
      moved: () => {
        moves++;
      },
      start: () => {
        frames = [];
        moves = 0;
        running = true;
        let last = performance.now();
        const step = (now: number) => {
          if (!running) return;
          frames.push(now - last);
          last = now;
          requestAnimationFrame(step);
        };
        requestAnimationFrame(step);
      },
      end: () => {
        running = false;
        return { frames: frames.slice(1), moves };
      },
    };
  });
}

/**
 * Drags the artwork at a place round in a circle and gives the 95th percentile of the time between frames, ms. Moves are
 * sent one by one and waited for by the page itself, so that all pages get the same ones.
 */
export async function dragP95(page: Page, at: { readonly x: number; readonly y: number }): Promise<number> {
  await page.bringToFront();
  await page.mouse.move(at.x, at.y);
  await page.mouse.down();
  await page.mouse.move(at.x + 20, at.y);
  await page.evaluate(() => window.drag.start());
  for (let i = 0; i <= MOVES; i++) {
    const turn = (i / MOVES) * 2 * Math.PI * 3;
    await page.mouse.move(at.x + 60 * Math.cos(turn), at.y + 60 * Math.sin(turn));
  }
  const { frames, moves } = await page.evaluate(() => window.drag.end());
  await page.mouse.move(at.x, at.y, { steps: 2 });
  await page.mouse.up();
  if (frames.length < MOVES / 4) throw new Error(`only ${frames.length} frames in a drag of ${MOVES} moves`);
  if (moves < MOVES / 4) throw new Error(`the artwork moved only ${moves} times`);
  frames.sort((a, b) => a - b);
  return frames[Math.floor(frames.length * 0.95)] ?? Number.NaN;
}
