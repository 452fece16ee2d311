import type { Colour } from '../../worker/engine/model/colour.ts';
import { offerParts, type Offer } from '../../worker/engine/model/offer.ts';
import type { Part } from '../../worker/engine/model/part.ts';
import { colourShort } from '../../worker/engine/model/short/colourForm.ts';
import { sizeLabel, type Size } from '../../worker/engine/model/size.ts';
import { cut, decimalWord, groupsOf, lettersAndDigits, plainWords } from './fold.ts';
import { colourWord, namedIn, sizeWord } from './notations.ts';

/** Where a word stands, with how much a word there says of the thing. */
const WEIGHTS = {
  code: 10,
  number: 10,
  size: 8,
  colour: 8,
  description: 6,
  kind: 5,
  type: 4,
  family: 4,
  figure: 4,
  part: 4,
  maker: 3,
  supplier: 3,
  note: 1,
} as const;

export type Field = keyof typeof WEIGHTS;

/** A word by which a thing is found. */
export interface Word {
  word: string;
  field: Field;
  weight: number;
}

/** Gathers words, each once: where it says most. */
class Words {
  readonly #words = new Map<string, Word>();

  add(field: Field, word: string): void {
    const weight = WEIGHTS[field];
    if (word !== '' && weight > (this.#words.get(word)?.weight ?? 0))
      this.#words.set(word, { word, field, weight });
  }

  /** Words as they stand, each also with what a dash parts joined, and the sizes and colours that it names. */
  text(field: Field, text: string | undefined): void {
    if (text === undefined) return;
    for (const raw of text.split(/\s+/)) {
      for (const word of [...plainWords(raw), lettersAndDigits(raw), decimalWord(raw) ?? ''])
        this.add(field, word);
    }
    const { sizes, colours } = namedIn(text);
    for (const size of sizes) this.add('size', sizeWord(size));
    for (const colour of colours) this.add('colour', colourWord(colour));
  }

  /** A number is found whole, by its end from any group on, and by each group. */
  number(field: Field, number: string | undefined): void {
    if (number === undefined) return;
    const groups = groupsOf(number);
    for (const [at, group] of groups.entries()) {
      this.add(field, cut(group));
      this.add(field, cut(groups.slice(at).join('')));
    }
    for (const word of plainWords(number)) this.add(field, word);
  }

  size(size: Size): void {
    this.add('size', sizeWord(sizeLabel(size)));
  }

  colour(colour: Colour): void {
    this.add('colour', colourWord(colourShort(colour)));
    this.text('colour', colourShort(colour));
    if (colour.tracer !== undefined) for (const word of ['with', 'tracer']) this.add('note', word);
    this.text('note', colour.seen);
  }

  all(): Word[] {
    return [...this.#words.values()].sort((a, b) => (a.word < b.word ? -1 : 1));
  }
}

/** "heatShrink" is said "heat shrink". */
const said = (value: string) => value.replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`);

const TYPES = [
  'cableType',
  'sleeveType',
  'tapeType',
  'terminalType',
  'coverType',
  'joinerType',
  'deviceType',
  'fittingType',
  'gender',
  'housingGender',
] as const;
const FIGURES = ['sizeMm', 'boreMm', 'widthMm', 'ratedAmps', 'ways'] as const;

/** The words by which a part is found. */
export function wordsOfPart(part: Part): Word[] {
  const words = new Words();
  const fields = part as unknown as Readonly<Record<string, unknown>>;
  words.number('code', part.code);
  for (const number of [part.makerCode, ...(part.numbers ?? []).map((each) => each.number)])
    words.number('number', number);
  words.text('description', part.description);
  words.text('kind', said(part.kind));
  words.text('family', part.family);
  for (const name of [part.maker, ...(part.numbers ?? []).map(({ whose }) => whose)])
    words.text('maker', name);
  for (const field of TYPES) {
    const value = fields[field];
    if (typeof value === 'string') words.text('type', said(value));
  }
  for (const field of FIGURES) {
    const value = fields[field];
    if (typeof value === 'number') words.add('figure', String(value));
  }
  if ('shade' in part && part.shade !== undefined) words.colour({ base: part.shade });
  for (const { size, colour } of part.kind === 'wire' ? [part] : part.kind === 'cable' ? part.cores : []) {
    words.size(size);
    words.colour(colour);
  }
  words.text('note', part.note);
  return words.all();
}

/** The words by which an offer is found; those of the parts that it sells are not among them, but for their codes. */
export function wordsOfOffer(offer: Offer): Word[] {
  const words = new Words();
  words.number('code', offer.code);
  words.number('number', offer.supplierCode);
  words.text('description', offer.description);
  for (const { part } of offerParts(offer)) words.number('part', part);
  words.text('supplier', offer.supplier);
  // What was stored before offers stated it is new.
  const { condition = 'new' }: { condition?: string } = offer;
  words.text('type', said(condition));
  words.text('note', offer.note);
  return words.all();
}

/** By what a thing is counted: of a part its kind, size and colour; of an offer its supplier. */
export interface Facets {
  kind: string | null;
  size: string | null;
  colour: string | null;
  supplier: string | null;
}

export function facetsOfPart(part: Part): Facets {
  const shade = 'shade' in part ? part.shade : undefined;
  const colour = part.kind === 'wire' ? part.colour : shade && { base: shade };
  return {
    kind: part.kind,
    size: part.kind === 'wire' ? sizeLabel(part.size) : null,
    colour: colour ? colourShort(colour) : null,
    supplier: null,
  };
}
