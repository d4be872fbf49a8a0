/** Two surfaces to drag on: the stage, and bare Fabric with the same picture at the same size. */
import { Canvas, FabricImage } from 'fabric/es';
import { PlatenStage } from '../../../../widget/stage/stage.ts';
import { frontFace, teeView } from '../../../widget/pages/stage-fixture.ts';

customElements.define('bench-stage', PlatenStage);

const SIDE_PX = 800;

/** A picture with detail in it, so that drawing it is work. */
function picture(): HTMLCanvasElement {
  const canvas = document.createElement('canvas');
  canvas.width = 1600;
  canvas.height = 1200;
  const pen = canvas.getContext('2d')!;
  for (let i = 0; i < 400; i++) {
    pen.fillStyle = `hsl(${(i * 37) % 360} 70% 50% / .8)`;
    pen.beginPath();
    pen.arc((i * 131) % 1600, (i * 71) % 1200, 20 + (i % 60), 0, 7);
    pen.fill();
  }
  return canvas;
}

let center = () => ({ x: SIDE_PX / 2, y: SIDE_PX / 2 });

async function makeStage(): Promise<void> {
  const stage = new PlatenStage();
  stage.style.setProperty('width', `${SIDE_PX}px`);
  stage.style.setProperty('height', `${SIDE_PX}px`);
  stage.view = teeView;
  stage.faces = [frontFace];
  stage.face = 'front';
  stage.clothHex = '#2e4a6b';
  stage.placements = [
    {
      id: 'art',
      face: 'front',
      name: 'art',
      source: picture(),
      raster: { widthPx: 1600, heightPx: 1200 },
      inkBox: null,
      xMm: 0,
      yMm: 200,
      widthMm: 260,
      angleDeg: 10,
    },
  ];
  stage.addEventListener('platen-stage-input', () => window.drag.moved());
  document.body.append(stage);
  await stage.updateComplete;
  const ready = () => stage.renderRoot.querySelector('.item:not(.waiting)');
  while (!ready()) await new Promise((done) => setTimeout(done, 10));
  center = () => {
    const box = stage.renderRoot.querySelector('.item')!.getBoundingClientRect();
    return { x: box.left + box.width / 2, y: box.top + box.height / 2 };
  };
}

async function makeBare(): Promise<void> {
  const element = document.createElement('canvas');
  document.body.append(element);
  const canvas = new Canvas(element, { width: SIDE_PX, height: SIDE_PX });
  const image = new FabricImage(picture(), { left: SIDE_PX / 2, top: SIDE_PX / 2, angle: 10 });
  // as wide on the screen as on the stage
  image.scale(280 / 1600);
  canvas.add(image);
  canvas.on('object:moving', () => window.drag.moved());
  canvas.renderAll();
  center = () => {
    const box = canvas.upperCanvasEl.getBoundingClientRect();
    return { x: box.left + image.left, y: box.top + image.top };
  };
}

const dragging = {
  makeStage,
  makeBare,
  center: () => center(),
};
declare global {
  interface Window {
    dragging: typeof dragging;
  }
}
window.dragging = dragging;
