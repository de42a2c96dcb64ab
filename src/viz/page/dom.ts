/** Attributes of an element; functions become listeners, `false` and `undefined` leave one out. */
type Attributes = Readonly<Record<string, string | number | boolean | undefined | ((event: Event) => void)>>;

/** An element with attributes and children; text is only ever set as text. */
export function element<K extends keyof HTMLElementTagNameMap>(
  name: K,
  attributes: Attributes = {},
  ...children: readonly (Node | string | undefined | false)[]
): HTMLElementTagNameMap[K] {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) {
    if (typeof value === 'function') made.addEventListener(key, value);
    else if (value === true) made.setAttribute(key, '');
    else if (value !== false && value !== undefined) made.setAttribute(key, String(value));
  }
  for (const child of children) if (child) made.append(child);
  return made;
}

/** The element with an id, or undefined where this page has none. */
export function byId<T extends HTMLElement = HTMLElement>(id: string): T | undefined {
  return (document.getElementById(id) as T | null) ?? undefined;
}

/** Calls at most once in `wait` milliseconds of quiet. */
export function whenQuiet(wait: number, call: () => void): () => void {
  let timer: number | undefined;
  return () => {
    clearTimeout(timer);
    timer = setTimeout(call, wait) as unknown as number;
  };
}
