import { inflateSync } from 'node:zlib';

/** Part of the room between the margins that a printed page uses from the top [0…1], page by page. */
export function pagesFilled(
  pdf: Buffer,
  margin: { readonly top: number; readonly bottom: number },
): number[] {
  const text = pdf.toString('latin1');
  const pages = [...text.matchAll(/\/Type\s*\/Page\b[\s\S]*?endobj/g)].map(([each]) => each);
  return pages.map((page) => {
    const [, height] = /\/MediaBox\s*\[\s*0\s+0\s+[\d.]+\s+([\d.]+)/.exec(page)!;
    const contents = /\/Contents\s+(\d+) 0 R/.exec(page)![1]!;
    const tall = Number(height);
    const lowest = Math.min(...placesOf(streamOf(pdf, text, contents)).filter((y) => y > margin.bottom));
    return (tall - margin.top - lowest) / (tall - margin.top - margin.bottom);
  });
}

function streamOf(pdf: Buffer, text: string, id: string): string {
  const object = text.search(new RegExp(`(?:^|\\n)${id} 0 obj`));
  const start = text.indexOf('stream', object) + 'stream'.length;
  const from = text[start] === '\r' ? start + 2 : start + 1;
  return inflateSync(pdf.subarray(from, text.indexOf('endstream', from))).toString('latin1');
}

type Matrix = readonly [number, number, number, number, number, number];

const times = (a: Matrix, b: Matrix): Matrix => [
  a[0] * b[0] + a[1] * b[2],
  a[0] * b[1] + a[1] * b[3],
  a[2] * b[0] + a[3] * b[2],
  a[2] * b[1] + a[3] * b[3],
  a[4] * b[0] + a[5] * b[2] + b[4],
  a[4] * b[1] + a[5] * b[3] + b[5],
];

/** Heights above the foot of the page at which words are set [pt]; lines and fills lie about words. */
function placesOf(stream: string): number[] {
  let now: Matrix = [1, 0, 0, 1, 0, 0];
  let line: Matrix = now;
  const kept: Matrix[] = [];
  const places: number[] = [];
  let numbers: number[] = [];
  for (const token of stream.match(/\((?:\\.|[^\\)])*\)|<[^>]*>|[^\s[\]()<>]+/g) ?? []) {
    const number = Number(token);
    if (!Number.isNaN(number)) {
      numbers.push(number);
      continue;
    }
    const last = numbers.slice(-6) as unknown as Matrix;
    if (token === 'q') kept.push(now);
    else if (token === 'Q') now = kept.pop() ?? now;
    else if (token === 'cm') now = times(last, now);
    else if (token === 'BT') line = [1, 0, 0, 1, 0, 0];
    else if (token === 'Tm') line = last;
    else if (token === 'Td' || token === 'TD')
      line = times([1, 0, 0, 1, numbers.at(-2)!, numbers.at(-1)!], line);
    else if (token === 'Tj' || token === 'TJ') places.push(times(line, now)[5]);
    if (!/^[<(]/.test(token)) numbers = [];
  }
  return places;
}
