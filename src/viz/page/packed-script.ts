import { inflated } from './inflate.ts';

/**
 * Runs a script the page carries deflated. The page's policy names the hash of its text, so that it runs when it is put
 * in later, and no other does.
 *
 * @param id element that holds the deflated text in base64
 * @throws Error where the page carries no such script
 */
export async function runPacked(id: string): Promise<void> {
  const packed = document.getElementById(id)?.textContent;
  if (!packed) throw new Error(`this page carries no ${id}`);
  const script = document.createElement('script');
  script.textContent = new TextDecoder().decode(await inflated(packed));
  document.body.append(script);
}
