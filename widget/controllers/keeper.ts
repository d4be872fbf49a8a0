import { type Draft, readDraft, UNSENT } from './draft.ts';

/** Keeps the slip in the browser's local storage, by shop, so that a reload or crash loses nothing. */
export class Keeper {
  readonly #key: string;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #waiting: Draft | null = null;

  /** @param scope what tells one slip from another: API, shop and the element's own id. */
  constructor(scope: string) {
    this.#key = `platen-order:${scope}`;
  }

  load(): Draft | null {
    try {
      const text = localStorage.getItem(this.#key);
      return text ? withoutUnsent(readDraft(JSON.parse(text))) : null;
    } catch {
      // storage may be forbidden, or hold something else: then there is nothing to restore
      return null;
    }
  }

  /** Writes soon; a burst of changes is one write. */
  save(draft: Draft): void {
    this.#waiting = draft;
    this.#timer ??= setTimeout(() => this.flush(), 150);
  }

  /** Writes what waits, now. */
  flush(): void {
    clearTimeout(this.#timer);
    this.#timer = undefined;
    if (!this.#waiting) return;
    try {
      localStorage.setItem(this.#key, JSON.stringify(this.#waiting));
    } catch {
      // full or forbidden: the slip still lives in the page
    }
    this.#waiting = null;
  }

  clear(): void {
    clearTimeout(this.#timer);
    this.#timer = undefined;
    this.#waiting = null;
    try {
      localStorage.removeItem(this.#key);
    } catch {
      // forbidden storage has nothing to clear
    }
  }
}

/** A file that never reached the shop is gone after a reload: its placements go too. */
function withoutUnsent(draft: Draft | null): Draft | null {
  if (!draft) return null;
  return {
    ...draft,
    lines: draft.lines.map((line) => ({
      ...line,
      placements: line.placements.filter((placement) => !placement.artwork.startsWith(UNSENT)),
    })),
  };
}

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
