/** A printable area, mm. */
export type Area = { readonly widthMm: number; readonly heightMm: number };

/** The tightest area among the chosen sizes: the smallest width and the smallest height of them. */
export function smallestArea(
  face: Area & { readonly areaBySize: Readonly<Record<string, Area>> },
  sizes: readonly string[],
): Area {
  let { widthMm, heightMm } = face;
  for (const size of sizes) {
    const area = Object.hasOwn(face.areaBySize, size) ? face.areaBySize[size] : undefined;
    if (!area) continue;
    widthMm = Math.min(widthMm, area.widthMm);
    heightMm = Math.min(heightMm, area.heightMm);
  }
  return { widthMm, heightMm };
}
