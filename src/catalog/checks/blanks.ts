import type { Blank, Face } from '../blank.ts';
import { type FaultList, listedIds, type Sections, withIndex } from './sections.ts';

/** How far a face may extend past the edge of its view, mm: rounding in drawings. */
const EDGE_MM = 0.01;
/** How far the sum of the fiber shares may be off 1: three thirds with six digits. */
const SHARE_SLACK = 0.00001;

/** Checks the blanks: ids, fibers, faces and views. */
export function checkBlanks(sections: Sections, list: FaultList): void {
  list.requireUnique(
    'blanks',
    sections.blanks.map(({ index, item }) => ({ index, id: item.id })),
    'blank',
  );
  for (const { index, item } of sections.blanks) checkBlank(`blanks.${index}`, item, list);
}

function checkBlank(at: string, blank: Blank, list: FaultList): void {
  list.requireUnique(`${at}.sizes`, withIndex(blank.sizes), 'size');
  list.requireUnique(`${at}.colors`, withIndex(blank.colors), 'color');
  list.requireUnique(`${at}.faces`, withIndex(blank.faces), 'face');
  list.requireUnique(`${at}.views`, withIndex(blank.views), 'view');
  list.requireUnique(
    `${at}.fibers`,
    blank.fibers.map(({ fiber }, index) => ({ index, id: fiber })),
    'fiber',
  );
  const sum = blank.fibers.reduce((total, { share }) => total + Number(share), 0);
  if (Math.abs(sum - 1) > SHARE_SLACK)
    list.add(
      `${at}.fibers`,
      Number(sum.toFixed(6)),
      'the fiber shares do not add up to 1',
      'shares that add up to 1',
    );
  const sizes = new Set(blank.sizes.map(({ id }) => id));
  blank.faces.forEach((face, index) => {
    checkFace(`${at}.faces.${index}`, face, blank, sizes, list);
  });
}

function checkFace(at: string, face: Face, blank: Blank, sizes: ReadonlySet<string>, list: FaultList): void {
  checkOnView(at, face, blank, list);
  for (const [size, area] of Object.entries(face.areaBySize)) {
    list.requireKnown(`${at}.areaBySize.${size}`, size, sizes, 'size');
    if (area.widthMm > face.widthMm || area.heightMm > face.heightMm)
      list.add(
        `${at}.areaBySize.${size}`,
        `${area.widthMm} x ${area.heightMm} mm`,
        'the area of a size is larger than the face',
        `at most ${face.widthMm} x ${face.heightMm} mm`,
      );
  }
  if (face.surface === 'cylinder') {
    if (face.diameterMm === undefined)
      list.add(`${at}.diameterMm`, undefined, 'a cylinder needs its diameter', 'an outer diameter in mm');
    else if (face.widthMm > Math.PI * face.diameterMm)
      list.add(
        `${at}.widthMm`,
        face.widthMm,
        'the face is wider than its cylinder is round',
        `at most ${(Math.PI * face.diameterMm).toFixed(1)} mm`,
      );
  } else if (face.diameterMm !== undefined) {
    list.add(`${at}.diameterMm`, face.diameterMm, 'only a cylinder has a diameter', 'no member of this name');
  }
  list.requireUnique(`${at}.keepOuts`, withIndex(face.keepOuts), 'keep-out');
  list.requireUnique(`${at}.usual`, withIndex(face.usual), 'usual position');
  face.keepOuts.forEach((box, index) => {
    const half = face.widthMm / 2;
    const misses =
      box.xMm >= half ||
      box.xMm + box.widthMm <= -half ||
      box.yMm >= face.heightMm ||
      box.yMm + box.heightMm <= 0;
    if (misses)
      list.add(
        `${at}.keepOuts.${index}`,
        `x ${box.xMm}, y ${box.yMm} mm`,
        'the keep-out lies wholly off its face',
        `a box that meets x ${-half} to ${half}, y 0 to ${face.heightMm} mm`,
      );
  });
  face.usual.forEach((position, index) => {
    const half = face.widthMm / 2;
    const reach = Math.abs(position.xMm) + position.widthMm / 2;
    if (reach > half + EDGE_MM || position.yMm > face.heightMm)
      list.add(
        `${at}.usual.${index}`,
        `x ${position.xMm}, y ${position.yMm}, ${position.widthMm} mm wide`,
        'the usual position is off the face',
        `within x ${-half} to ${half}, y 0 to ${face.heightMm} mm`,
      );
  });
}

function checkOnView(at: string, face: Face, blank: Blank, list: FaultList): void {
  const view = blank.views.find(({ id }) => id === face.onView.view);
  if (view === undefined) {
    const views = new Set(blank.views.map(({ id }) => id));
    list.add(
      `${at}.onView.view`,
      face.onView.view,
      `there is no view "${face.onView.view}"`,
      listedIds(views),
    );
    return;
  }
  const { xMm, yMm } = face.onView;
  const tooWide = xMm - face.widthMm / 2 < -EDGE_MM || xMm + face.widthMm / 2 > view.widthMm + EDGE_MM;
  const tooHigh = yMm < -EDGE_MM || yMm + face.heightMm > view.heightMm + EDGE_MM;
  if (tooWide || tooHigh)
    list.add(
      at,
      `${face.widthMm} x ${face.heightMm} mm at x ${xMm}, y ${yMm}`,
      `the face is larger than the blank: it leaves its view "${view.id}"`,
      `within ${view.widthMm} x ${view.heightMm} mm`,
    );
}
