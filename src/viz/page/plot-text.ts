/** Text the plotting library shows as it is: it reads tags and entities, so both are spelt out. */
export function plotText(text: string): string {
  return text.replace(/&/g, '&amp;').replace(/</g, '&lt;').replace(/>/g, '&gt;');
}
