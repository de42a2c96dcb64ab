import { deflateRawSync } from 'node:zlib';

/** Bytes or text deflated, in base64. */
export function deflate(content: Uint8Array | string): string {
  return deflateRawSync(content, { level: 9 }).toString('base64');
}
