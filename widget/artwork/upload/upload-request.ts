import { problemFrom, ShopProblem } from '../../shop/shop-api.ts';

/** A connection that sends nothing for so long counts as lost, ms. */
const STALL_MS = 20_000;
/** How long the shop may take to process what it has received, ms. */
const PROCESSING_MS = 120_000;

export type UploadResponse = { header(name: string): string; text: string };

/**
 * A request that reports how much of its body has been sent, which fetch cannot.
 *
 * @param progress called with the bytes sent
 * @throws ShopProblem `offline` when the connection is lost
 * @throws DOMException AbortError when the signal is aborted
 */
export function uploadRequest(
  method: string,
  address: string,
  headers: Record<string, string>,
  body: Blob | FormData | null,
  signal: AbortSignal,
  progress: (bytes: number) => void = () => {},
): Promise<UploadResponse> {
  return new Promise((resolve, reject) => {
    const request = new XMLHttpRequest();
    let timer: ReturnType<typeof setTimeout>;
    const fail = (why: string): void => {
      clearTimeout(timer);
      reject(new ShopProblem('offline', why));
    };
    const timeOutAfter = (ms: number): void => {
      clearTimeout(timer);
      timer = setTimeout(() => {
        fail('the connection has stalled');
        request.abort();
      }, ms);
    };
    request.open(method, address);
    for (const [name, value] of Object.entries(headers)) request.setRequestHeader(name, value);
    if (body)
      request.upload.onprogress = (event) => {
        timeOutAfter(STALL_MS);
        progress(event.loaded);
      };
    request.upload.onload = () => timeOutAfter(PROCESSING_MS);
    request.onload = () => {
      clearTimeout(timer);
      const { status, responseText: text } = request;
      const header = (name: string): string => request.getResponseHeader(name) ?? '';
      if (status < 300) resolve({ header, text });
      else reject(problemFrom({ status, text, retryAfter: header('retry-after') }));
    };
    request.onerror = () => fail('the connection was lost');
    request.onabort = () => reject(new DOMException('aborted', 'AbortError'));
    signal.addEventListener('abort', () => request.abort(), { once: true });
    timeOutAfter(STALL_MS);
    request.send(body);
  });
}
