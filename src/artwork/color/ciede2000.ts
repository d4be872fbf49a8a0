import type { Lab } from './lab.ts';

const DEGREES = 180 / Math.PI;
const POW25_7 = 25 ** 7;

/**
 * CIEDE2000 color difference of two Lab colors relative to the same white, with kL = kC = kH = 1. About 1 is the smallest
 * difference that a trained eye sees side by side; black and white differ by 100. Symmetric, but not a metric.
 *
 * @see ISO/CIE 11664-6; G. Sharma, W. Wu, E. N. Dalal, Color Research and Application 30(1), 21-30, 2005.
 */
export function ciede2000(first: Lab, second: Lab): number {
  const [l1, a1, b1] = first;
  const [l2, a2, b2] = second;
  const meanChroma = (Math.hypot(a1, b1) + Math.hypot(a2, b2)) / 2;
  const mean7 = meanChroma ** 7;
  const g = 0.5 * (1 - Math.sqrt(mean7 / (mean7 + POW25_7)));
  const ap1 = (1 + g) * a1;
  const ap2 = (1 + g) * a2;
  const cp1 = Math.hypot(ap1, b1);
  const cp2 = Math.hypot(ap2, b2);
  const hp1 = hueOf(ap1, b1);
  const hp2 = hueOf(ap2, b2);
  const gray = cp1 * cp2 === 0;

  let dh = hp2 - hp1;
  if (gray) dh = 0;
  else if (dh > 180) dh -= 360;
  else if (dh < -180) dh += 360;

  let meanHue = hp1 + hp2;
  if (!gray) {
    if (Math.abs(hp1 - hp2) <= 180) meanHue /= 2;
    else meanHue = (meanHue < 360 ? meanHue + 360 : meanHue - 360) / 2;
  }

  const dL = l2 - l1;
  const dC = cp2 - cp1;
  const dH = 2 * Math.sqrt(cp1 * cp2) * Math.sin(dh / 2 / DEGREES);
  const meanL50 = ((l1 + l2) / 2 - 50) ** 2;
  const meanCp = (cp1 + cp2) / 2;
  const t =
    1 -
    0.17 * cosine(meanHue - 30) +
    0.24 * cosine(2 * meanHue) +
    0.32 * cosine(3 * meanHue + 6) -
    0.2 * cosine(4 * meanHue - 63);
  const sL = 1 + (0.015 * meanL50) / Math.sqrt(20 + meanL50);
  const sC = 1 + 0.045 * meanCp;
  const sH = 1 + 0.015 * meanCp * t;
  const meanCp7 = meanCp ** 7;
  const rC = 2 * Math.sqrt(meanCp7 / (meanCp7 + POW25_7));
  const rT = -rC * Math.sin((60 * Math.exp(-(((meanHue - 275) / 25) ** 2))) / DEGREES);
  const l = dL / sL;
  const c = dC / sC;
  const h = dH / sH;
  // With rounding, the mixed term can exceed the squares when all three are nearly 0.
  return Math.sqrt(Math.max(0, l * l + c * c + h * h + rT * c * h));
}

function hueOf(a: number, b: number): number {
  if (a === 0 && b === 0) return 0;
  const hue = Math.atan2(b, a) * DEGREES;
  return hue < 0 ? hue + 360 : hue;
}

function cosine(degrees: number): number {
  return Math.cos(degrees / DEGREES);
}
