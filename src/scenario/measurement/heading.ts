import type { Basis, Method, SizeUnit } from './measured-sample.ts';
import type { SieveSeries } from './mesh-openings.ts';

/** What the values of a column are; `cumulative` leaves over or under to the data, `retained` in-class or cumulative. */
export type Role =
  | 'size'
  | 'undersize'
  | 'oversize'
  | 'cumulative'
  | 'in-class'
  | 'retained'
  | 'mass'
  | 'density'
  | 'log-density'
  | 'sample'
  | 'unknown';

/** Where in its class a stated size lies. */
export type Place = 'upper' | 'lower' | 'middle';

/** What the words of a heading say; a field is absent where they say nothing. */
export interface Heading {
  readonly text: string;
  readonly role: Role;
  readonly unit?: SizeUnit;
  readonly place?: Place;
  readonly basis?: Basis;
  readonly method?: Method;
  /** Whether the values are stated to be percent. */
  readonly percent: boolean;
  /** What is left once roles, units and bases are taken out: the sample's name, if anything. */
  readonly name: string;
}

const UNITS: readonly (readonly [RegExp, SizeUnit])[] = [
  [/(?:^|[^a-z])(?:nm|nanomet(?:er|re)s?)(?![a-z])/i, 'nm'],
  [/(?:^|[^a-z])(?:[µμu]m|microns?|micromet(?:er|re)s?|mikrometer|my)(?![a-z])/i, 'um'],
  [/[µμ]/, 'um'],
  [/(?:^|[^a-z])(?:mm|millimet(?:er|re)s?)(?![a-z])/i, 'mm'],
  [/(?:^|[^a-z])mesh(?![a-z])/i, 'mesh'],
];

/** The trade's words for each role (English, German, French, Spanish); the first that matches decides. */
const ROLES: readonly (readonly [RegExp, Role])[] = [
  [
    /q[0-3]\s*(?:\(x\))?\s*(?:lg|log|ln|\*)|d\s*[qv][0-3]?\s*(?:\(x\))?\s*\/\s*d\s*\(?\s*(?:ln|log|lg)|log.{0,20}densit|densit.{0,20}log|logarithm.{0,20}dichte/i,
    'log-density',
  ],
  [
    /densit(?!.{0,12}\b(?:k?g|lb)\b)|verteilungsdichte|dichteverteilung|^(?:q[0-3]\s*)?dichte|d\s*[qv][0-3]?\s*(?:\(x\))?\s*\/\s*d\s*x|(?:1|%)\s*\/\s*(?:[µμu]m|mm|nm)|(?:%|percent) per (?:[µμu]m|mm|nm|micron)|(?:[µμu]m|mm|nm)(?:\^?-1(?!\d)|⁻¹)/i,
    'density',
  ],
  [/(?:^|[[(,\s])k?g\s*[\])]?\s*$/, 'mass'],
  [
    /under.?size|passing|\bfiner|smaller than|less than|cumulative (?:%|percent)? ?(?:under|less|finer)|\bunder\b|durchgang|unterkorn|passant|tamisat|pasante/i,
    'undersize',
  ],
  [
    /over.?size|\bcoarser|greater than|cumulative (?:%|percent)? ?(?:over|retained|coarser)|retained cum|\bover\b|[üu]berkorn|r[üu]ckstand.*(?:sum|kum)|refus cum|residuo acum/i,
    'oversize',
  ],
  [/(?:^|[^A-Za-z])Q[0-3](?![A-Za-z])/, 'undersize'],
  [/(?:^|[^A-Za-z])R[0-3](?![A-Za-z])/, 'oversize'],
  [/\bcum|summe|kumul|acum/i, 'cumulative'],
  [/retained|r[üu]ckstand|residue|refus|retenu|retenido|residuo/i, 'retained'],
  [
    /(?:^|[^A-Za-z])q[0-3](?![A-Za-z])|in.?class|in.?channel|in band|in interval|frequency|differential|fraction|%\s?chan|volume\s?(?:in\b|%|$|\(|\[)|number\s?(?:%|$|\(|\[)|fr[ée]quen|h[äa]ufigkeit|klassenanteil|frecuencia/i,
    'in-class',
  ],
  [/\b(?:mass|weight|wt)\s*\.?\s?%|masse(?:n)?\s?-?(?:anteil|%)|vol(?:umen)?\.?\s?-?%/i, 'in-class'],
  [/\bsample|\bprobe|[ée]chantillon|muestra|^run$|\brecord\b|^name$/i, 'sample'],
  [
    /\bsize|gr[öo](?:ß|ss)e|diamet|opening|aperture|\bsieves?\b|\bmesh\b|korngr|partikelgr|teilchengr|maschenweite|durchmesser|siebweite|\bsieb\b|taille|diam[èe]tre|tamis|maille|ouverture|tama[ñn]o|di[áa]metro|\btamiz|channel|^x\b|^d\b|\bedge|class(?:es)?\b|klasse|kornklasse/i,
    'size',
  ],
];

const BASES: readonly (readonly [RegExp, Basis])[] = [
  [/(?:^|[^A-Za-z])[qQR]3(?![0-9A-Za-z])|volum|\bvol\b|\bvol\.?\s?%/i, 'volume'],
  [
    /mass|weight|\bwt\b|gewicht|poids|peso|passing|retained|r[üu]ckstand|durchgang|refus|tamisat|passant/i,
    'mass',
  ],
  [/(?:^|[^A-Za-z])[qQR]0(?![0-9A-Za-z])|number|anzahl|nombre|\bcounts?\b|n[úu]mero/i, 'number'],
];

const METHODS: readonly (readonly [RegExp, Method])[] = [
  [
    /laser|diffraction|beugung|obscuration|optical concentration|light scattering|fraunhofer|\bmie\b/i,
    'laser',
  ],
  [
    /sieve|sieving|sieb(?!en|zig|zehn)|luftstrahl|mesh|tamis|tamiz|retained|\bpan\b|air.?jet|aperture|astm.?e.?-?11|iso.?3310/i,
    'sieve',
  ],
];

const NOISE =
  /under.?size|over.?size|\bunder\b|\bover\b|\bfiner\b|\bcoarser\b|smaller than|less than|passing|durchgang|r[üu]ckstand|residue|korngr[öo](?:ß|ss)e|refus|passant|masse?|gewicht|cumulative|cum\.?|in.?class|retained|percent|volume|mass|weight|number|size|diameter|[[(][^\])]*[\])]|(?:^|[^A-Za-z])[qQR][0-3](?:\(x\))?(?![A-Za-z])|%|\bpct\b|\bg\b|[µμu]m\b|\bin\b|\bof\b|[,;:_/]/gi;

function first<T>(text: string, table: readonly (readonly [RegExp, T])[]): T | undefined {
  return table.find(([pattern]) => pattern.test(text))?.[1];
}

/**
 * What the words of a column heading, or of a remark, say about the numbers under it.
 *
 * @example readHeading('size_um_upper') // role 'size', unit 'um', place 'upper'
 */
export function readHeading(text: string): Heading {
  const words = text.replace(/_/g, ' ').trim();
  const unit = first(words, UNITS);
  const basis = basisIn(words);
  const method = methodIn(words);
  const place = /upper|\bto\b|\bbis\b|top|high/i.test(words)
    ? 'upper'
    : /lower|\bfrom\b|\bvon\b|bottom|\blow\b/i.test(words)
      ? 'lower'
      : /mid|mean|cent(?:er|re)|mittel|moyen/i.test(words)
        ? 'middle'
        : undefined;
  const bare = unit !== undefined && words.replace(/[[\]()/\s]/g, '').length <= 6;
  const role = first(words, ROLES) ?? (bare ? 'size' : 'unknown');
  return {
    text: text.trim(),
    role,
    ...(unit ? { unit } : {}),
    ...(place ? { place } : {}),
    ...(basis ? { basis } : {}),
    ...(method ? { method } : {}),
    percent: /%|\bpct\b|percent|prozent/i.test(words),
    name: words.replace(NOISE, ' ').replace(/\s+/g, ' ').trim(),
  };
}

/** Basis named by a text, if any. */
export function basisIn(text: string): Basis | undefined {
  return first(text, BASES);
}

/** Words around a table in which "number" is a basis: a serial number or a count of runs is none. */
const BY_NUMBER =
  /(?:by|per)\s+number|number\s?(?:basis|based|weighted|distribution|%|percent)|anzahl(?:verteilung|basis|bezogen|dichte)|en nombre|(?:^|[^A-Za-z])[qQ]0(?![0-9A-Za-z])/i;

/** Basis named by the words around a table, if any. */
export function basisOfFile(text: string): Basis | undefined {
  const found = first(
    text,
    BASES.filter(([, basis]) => basis !== 'number'),
  );
  return found ?? (BY_NUMBER.test(text) ? 'number' : undefined);
}

const SERIES: readonly (readonly [RegExp, SieveSeries])[] = [
  [/astm\s*-?\s*e\s*-?\s*11|\bu\.?\s?s\.?\s+(?:standard|sieve|mesh|std)/i, 'astm-e11'],
  [/\bbs\s*-?\s*410\b/i, 'bs-410'],
];

/** Sieve series named by a text, if any. */
export function seriesIn(text: string): SieveSeries | undefined {
  return first(text, SERIES);
}

/** Method of measurement named by a text, if any. */
export function methodIn(text: string): Method | undefined {
  return first(text, METHODS);
}
