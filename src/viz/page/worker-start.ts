/**
 * Starts workers from a script that stands in the page. Its address is made once: a worker given up is soon replaced, and
 * copying a large script each time would hold up the page.
 *
 * @param first message to each worker
 */
export function workerStart(script: string, first: unknown): () => Worker {
  let url: string | undefined;
  return () => {
    url ??= URL.createObjectURL(new Blob([script], { type: 'text/javascript' }));
    const worker = new Worker(url);
    worker.postMessage(first);
    return worker;
  };
}
