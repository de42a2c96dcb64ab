/** What is used of the rasteriser. */
declare module '@resvg/resvg-js' {
  export class Resvg {
    constructor(
      svg: string,
      options?: {
        readonly font?: { readonly loadSystemFonts: boolean; readonly fontFiles?: string[] };
        readonly fitTo?: { readonly mode: 'zoom'; readonly value: number };
      },
    );
    readonly width: number;
    readonly height: number;
    getBBox(): { readonly width: number } | undefined;
    render(): { asPng(): Uint8Array };
  }
}
