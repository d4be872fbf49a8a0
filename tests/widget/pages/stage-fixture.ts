/** A blank for the stage tests: a plain tee of 600 x 700 mm with a front area and a chest area. */
import type { Face, View } from '../../../src/catalog/blank.ts';

export const teeView: View = {
  id: 'front',
  name: 'Front',
  widthMm: 600,
  heightMm: 700,
  shapes: [
    {
      role: 'cloth',
      d: 'M210 30Q300 90 390 30L470 60L590 200L510 260L470 215L470 680L130 680L130 215L90 260L10 200L130 60Z',
    },
    { role: 'shade', d: 'M130 215L160 330L150 680L130 680Z' },
    { role: 'seam', d: 'M210 30Q300 110 390 30' },
    { role: 'seam', d: 'M130 665H470' },
  ],
};

const area = (id: string, widthMm: number, heightMm: number, xMm: number, yMm: number): Face => ({
  id,
  name: id === 'front' ? 'Full front' : 'Chest',
  surface: 'flat',
  widthMm,
  heightMm,
  areaBySize: id === 'front' ? { s: { widthMm: 260, heightMm: 360 } } : {},
  keepOuts:
    id === 'front'
      ? [{ id: 'hem', name: 'hem seam', kind: 'seam', xMm: -150, yMm: 380, widthMm: 300, heightMm: 20 }]
      : [],
  usual:
    id === 'front'
      ? [
          { id: 'center-chest', name: 'Center chest', xMm: 0, yMm: 90, widthMm: 250 },
          { id: 'left-chest', name: 'Left chest', xMm: 80, yMm: 40, widthMm: 90 },
        ]
      : [],
  onView: { view: 'front', xMm, yMm },
});

export const frontFace = area('front', 300, 400, 300, 140);
export const chestFace = area('chest', 100, 100, 380, 140);
