const ENTITIES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** Text safe between tags and inside quoted attributes of HTML and SVG; characters no document may hold are dropped. */
export function escapeText(text: string): string {
  return text.replace(/(?![\t\n])\p{Cc}|[\uFFFE\uFFFF]/gu, '').replace(/[&<>"']/g, (each) => ENTITIES[each]!);
}

/** JSON text as it may stand inside a script element. */
export function escapeJson(json: string): string {
  return json
    .replace(/</g, '\\u003c')
    .replace(/\u2028/g, '\\u2028')
    .replace(/\u2029/g, '\\u2029');
}
