/**
 * Starts a module worker, also where the page's origin is not the script's.
 *
 * @throws when a policy of the page forbids it
 */
export function startWorker(address: string, name: string): Worker {
  return new Worker(trustedUrl(sameOriginUrl(address)), { type: 'module', name });
}

/** Whether a script is of the page's own origin. */
export const isSameOrigin = (address: string): boolean => new URL(address).origin === location.origin;

const blobUrls = new Map<string, string>();

/**
 * An address of the page's own origin, as a worker's script must have: for a script from another origin, a blob that
 * imports it.
 */
function sameOriginUrl(url: string): string {
  if (isSameOrigin(url)) return url;
  const blobUrl =
    blobUrls.get(url) ??
    URL.createObjectURL(new Blob([`import ${JSON.stringify(url)}`], { type: 'text/javascript' }));
  blobUrls.set(url, blobUrl);
  return blobUrl;
}

type ScriptUrlPolicy = { createScriptURL(url: string): string };
type PolicyFactory = {
  createPolicy(name: string, rules: { createScriptURL(url: string): string }): ScriptUrlPolicy;
};

/**
 * The worker's address for a page with Trusted Types: by the policy `platen-worker`, which the page has to allow beside
 * `lit-html`; otherwise there is no worker.
 */
function trustedUrl(url: string): string {
  const factory = (globalThis as { trustedTypes?: PolicyFactory }).trustedTypes;
  policy ??= factory?.createPolicy('platen-worker', { createScriptURL: (own) => own });
  return policy ? policy.createScriptURL(url) : url;
}
let policy: ScriptUrlPolicy | undefined;
