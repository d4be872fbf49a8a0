import { type Draft, withoutUnsent } from './draft.ts';
import { readDraft } from './read-draft.ts';

/** The slip's parameter in the fragment of a page's address: `#platen=…`. */
const PARAMETER = 'platen';

/** The draft as text for an address: base64url of UTF-8 JSON. It names artworks by id and does not contain them. */
export function draftToLink(draft: Draft): string {
  const bytes = new TextEncoder().encode(JSON.stringify(draft));
  let binary = '';
  for (const byte of bytes) binary += String.fromCharCode(byte);
  return btoa(binary).replaceAll('+', '-').replaceAll('/', '_').replace(/=+$/, '');
}

/** Reads text written by `draftToLink`; null for anything else. */
export function draftFromLink(text: string): Draft | null {
  try {
    const binary = atob(text.replaceAll('-', '+').replaceAll('_', '/'));
    const bytes = Uint8Array.from(binary, (character) => character.charCodeAt(0));
    return withoutUnsent(readDraft(JSON.parse(new TextDecoder().decode(bytes))));
  } catch {
    return null;
  }
}

/** Reads a slip from JSON text, an object or text for an address; null for anything else. */
export function parseDraft(value: unknown): Draft | null {
  try {
    return readDraft(typeof value === 'string' ? JSON.parse(value) : value);
  } catch {
    return draftFromLink(String(value));
  }
}

/** The slip in the page's address, if there is one. */
export function draftFromPageUrl(): Draft | null {
  const found = new RegExp(`[#&]${PARAMETER}=([\\w-]+)`).exec(location.hash);
  return found ? draftFromLink(found[1] ?? '') : null;
}

/** Copies the page's address with the slip in it to the clipboard; if that is not allowed, to the address bar. */
export async function copyLink(draft: Draft): Promise<void> {
  const address = new URL(location.href);
  address.hash = `${PARAMETER}=${draftToLink(draft)}`;
  try {
    await navigator.clipboard.writeText(address.href);
  } catch {
    history.replaceState(history.state, '', address);
  }
}
