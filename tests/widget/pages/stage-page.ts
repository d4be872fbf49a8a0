/** The page the stage tests drive: one stage, its events written down, pictures drawn by code. */

import { Formatter } from '../../../widget/format/index.ts';
import { messages as english } from '../../../widget/locales/later/en.ts';
import { MessageFormat } from '../../../widget/locales/message-format.ts';
import type { StagePlacement } from '../../../widget/stage/geometry/stage-types.ts';
import { PlatenStage } from '../../../widget/stage/stage.ts';
import type { StagePlacementEvent } from '../../../widget/stage/stage-events.ts';
import { chestFace, frontFace, teeView } from './stage-fixture.ts';

customElements.define('platen-stage', PlatenStage);

export type Told = { readonly type: string; readonly detail: Record<string, unknown> };

/** An L of ink, so that turns and mirrors show: `width` x `height` px, ink inset by a tenth on every side. */
function testPicture(width: number, height: number): HTMLCanvasElement {
  const canvas = document.createElement('canvas');
  canvas.width = width;
  canvas.height = height;
  const pen = canvas.getContext('2d')!;
  pen.fillStyle = '#c8102e';
  pen.fillRect(width * 0.1, height * 0.1, width * 0.8, height * 0.8);
  pen.fillStyle = '#ffd100';
  pen.fillRect(width * 0.1, height * 0.1, width * 0.3, height * 0.3);
  return canvas;
}

function placement(id: string, more: Partial<StagePlacement> = {}): StagePlacement {
  return {
    id,
    face: 'front',
    name: `${id}.png`,
    source: testPicture(400, 300),
    raster: { widthPx: 400, heightPx: 300 },
    inkBox: { left: 40, top: 30, width: 320, height: 240 },
    xMm: 0,
    yMm: 150,
    widthMm: 120,
    angleDeg: 0,
    ...more,
  };
}

function makeStage(): PlatenStage {
  const stage = new PlatenStage();
  stage.view = teeView;
  stage.faces = [frontFace];
  stage.face = 'front';
  stage.words = english.stage;
  return stage;
}

const told: Told[] = [];
for (const type of ['input', 'change', 'select', 'remove', 'drop', 'add', 'picture-error'])
  document.addEventListener(`platen-stage-${type}`, (event) => {
    const detail: Record<string, unknown> = {};
    for (const key of ['placement', 'position', 'cause', 'face', 'xMm', 'yMm', 'files'])
      if (key in event) detail[key] = (event as unknown as Record<string, unknown>)[key];
    told.push({ type, detail });
    // a host that keeps what it is told, as the slip does
    if (type === 'change') {
      const { target, placement: id, position } = event as StagePlacementEvent;
      const stage = target as PlatenStage;
      stage.placements = stage.placements.map((one) => (one.id === id ? { ...one, ...position } : one));
    }
  });

export const tools = {
  makeStage,
  placement,
  testPicture,
  told,
  MessageFormat,
  Formatter,
  teeView,
  frontFace,
  chestFace,
};
declare global {
  interface Window {
    tools: typeof tools;
    stage: PlatenStage;
  }
}
window.tools = tools;
