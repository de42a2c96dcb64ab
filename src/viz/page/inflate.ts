/** Bytes that were deflated and written in base64. */
export async function inflated(base64: string): Promise<Uint8Array<ArrayBuffer>> {
  const deflated = Uint8Array.from(atob(base64), (each) => each.charCodeAt(0));
  const stream = new Blob([deflated]).stream().pipeThrough(new DecompressionStream('deflate-raw'));
  return new Uint8Array(await new Response(stream).arrayBuffer());
}
