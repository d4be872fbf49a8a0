import { type Draft, readDraft, withoutUnsent } from './draft.ts';

/** Names the slip in an address: `#platen=…`. */
const MARK = 'platen';

/** The slip as text for an address: base64url of UTF-8 JSON. Artwork is named, not carried. */
export function draftToLink(draft: Draft): string {
  const bytes = new TextEncoder().encode(JSON.stringify(draft));
  let binary = '';
  for (const byte of bytes) binary += String.fromCharCode(byte);
  return btoa(binary).replaceAll('+', '-').replaceAll('/', '_').replace(/=+$/, '');
}

/** Reads what `draftToLink` wrote; null when it is anything else. */
export function draftFromLink(text: string): Draft | null {
  try {
    const binary = atob(text.replaceAll('-', '+').replaceAll('_', '/'));
    const bytes = Uint8Array.from(binary, (character) => character.charCodeAt(0));
    return withoutUnsent(readDraft(JSON.parse(new TextDecoder().decode(bytes))));
  } catch {
    return null;
  }
}

/** Reads a slip as JSON text, as an object or as text for an address; null when it is anything else. */
export function draftFrom(value: unknown): Draft | null {
  try {
    return readDraft(typeof value === 'string' ? JSON.parse(value) : value);
  } catch {
    return draftFromLink(String(value));
  }
}

/** A slip that came with the page's address. */
export function draftFromAddress(): Draft | null {
  const found = new RegExp(`[#&]${MARK}=([\\w-]+)`).exec(location.hash);
  return found ? draftFromLink(found[1] ?? '') : null;
}

/** Puts the page's address with the slip in it on the clipboard; without leave to, into the address bar. */
export async function copyAddress(draft: Draft): Promise<void> {
  const address = new URL(location.href);
  address.hash = `${MARK}=${draftToLink(draft)}`;
  try {
    await navigator.clipboard.writeText(address.href);
  } catch {
    history.replaceState(history.state, '', address);
  }
}
