import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';

/** The fonts for drawings: the same on every machine. */
export type BundledFonts = { readonly configFile: string; remove(): Promise<void> };

/**
 * Writes a fontconfig file with Liberation Sans (OFL, part of the PDF renderer) and nothing else, so that a drawing looks
 * the same whatever fonts are installed.
 */
export async function bundleFonts(): Promise<BundledFonts> {
  const folder = await mkdtemp(join(tmpdir(), 'artwork-fonts-'));
  const fonts = join(
    dirname(createRequire(import.meta.url).resolve('pdfjs-dist/package.json')),
    'standard_fonts',
  );
  const configFile = join(folder, 'fonts.conf');
  await writeFile(
    configFile,
    `<?xml version="1.0"?>
<!DOCTYPE fontconfig SYSTEM "urn:fontconfig:fonts.dtd">
<fontconfig>
  <dir>${escapeXml(fonts)}</dir>
  <cachedir>${escapeXml(join(folder, 'cache'))}</cachedir>
  <selectfont><rejectfont><glob>*.pfb</glob></rejectfont></selectfont>
</fontconfig>
`,
  );
  return { configFile, remove: () => rm(folder, { recursive: true, force: true }) };
}

function escapeXml(text: string): string {
  return text.replace(/&/g, '&amp;').replace(/</g, '&lt;');
}
