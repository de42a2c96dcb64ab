import { OWN_STYLE } from '../desk/own-style.ts';
import { htmlDocument, themeStyle } from '../html/document-text.ts';
import { trusted } from '../html/template.ts';
import { element } from './dom.ts';
import { download, fileName } from './download.ts';

/** A document of the program as the body of a page. */
export interface ShownDocument {
  readonly title: string;
  readonly body: string;
}

/** Shows a document within this page and hands it on as a page of its own. */
export class DocumentView {
  private readonly root: HTMLElement;
  private readonly style: string;
  private shown: ShownDocument | undefined;

  /** @param style laid over the style of the pages */
  constructor(root: HTMLElement, style = '') {
    this.root = root;
    this.style = pageStyle() + style;
  }

  get document(): ShownDocument | undefined {
    return this.shown;
  }

  show(document: ShownDocument): void {
    this.shown = document;
    // a tree of its own: its anchors may have the names of this page's
    const tree = this.root.shadowRoot ?? this.root.attachShadow({ mode: 'open' });
    const style = element('style', {});
    // colours are inherited from the page
    style.textContent = this.style;
    const body = element('div', { class: 'shown' });
    body.innerHTML = document.body
      .replace(/<(\/?)main\b/g, '<$1div')
      .replace(/<a class="skip"[\s\S]*?<\/header>/, '');
    tree.replaceChildren(style, body);
  }

  /** The document as one HTML file without any script. */
  save(): void {
    if (!this.shown) return;
    const { title, body } = this.shown;
    const parts = { title, body: trusted(body), style: this.style, data: {}, texts: {}, scripts: [] };
    const none = () => {
      throw new Error('a document without scripts needs no hash');
    };
    download(`${fileName(title)}.html`, htmlDocument(parts, { hash: none, deflate: none }), 'text/html');
  }
}

/** Style of the pages, as this one carries it before its own and after its colours. */
export function pageStyle(): string {
  const whole = document.querySelector('style')!.textContent!;
  const end = whole.indexOf(OWN_STYLE);
  return whole.slice(themeStyle().length, end < 0 ? undefined : end);
}
