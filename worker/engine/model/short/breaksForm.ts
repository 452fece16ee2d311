import type { Money } from '../money.ts';
import type { Offer } from '../offer.ts';
import { wrong, type Reading, type ShortContext, type ShortForm } from './form.ts';
import { moneyOf, moneyShort } from './moneyForm.ts';
import { decimalOf, decimalText, entriesOf, joined } from './numbers.ts';

type Pairs = { at: string; unit: string; text: string }[];

/** "10: 0.38, 50: 0.33" as pairs; undefined where an entry is none. */
function pairsOf(given: string, context: ShortContext): Pairs | string {
  const pairs: Pairs = [];
  for (const entry of entriesOf(given, context)) {
    const match = /^(?:from )?([\d.,]+) ?(m|mm)?\s*[:=]\s*(.+)$/i.exec(entry);
    const at = match && decimalOf(match[1] ?? '', context);
    if (!match || typeof at !== 'string') return entry;
    pairs.push({ at, unit: (match[2] ?? '').toLowerCase(), text: match[3] ?? '' });
  }
  return pairs;
}

function read(
  given: string,
  context: ShortContext,
  example: string,
  toBreak: (from: number, unit: string, price: Money) => unknown,
): Reading {
  const pairs = pairsOf(given, context);
  if (typeof pairs === 'string')
    return wrong(
      `Breaks are written as in "${own(pairs) ?? example}": from so many, a colon, the price; "${pairs}" is no such pair`,
    );
  const breaks: unknown[] = [];
  for (const { at, unit, text } of pairs) {
    const price = moneyOf(text, context);
    if ('code' in price) return price;
    breaks.push(toBreak(Number(at), unit, price));
  }
  return { value: breaks };
}

/** The two figures of a text that is no pair, as they would be written: "10 @ 0.38". */
function own(text: string): string | undefined {
  const [from, price, more] = [...text.matchAll(/\d+(\.\d+)?/g)].map(([figure]) => figure);
  return from === undefined || price === undefined || more !== undefined ? undefined : `${from}: ${price}`;
}

const PACKS = '10: 0.38, 50: 0.33';
/** Breaks of packs: from 10 packs each at 0.38. */
export const packBreaksForm: ShortForm = {
  examples: [PACKS],
  read: (given, context) =>
    read(given, context, PACKS, (fromPacks, _unit, packPrice) => ({ fromPacks, packPrice })),
};

const METRES = '10 m: 0.38, 50 m: 0.33';
/** Breaks by the metre: from 10 m each metre at 0.38. */
export const metreBreaksForm: ShortForm = {
  examples: [METRES],
  read: (given, context) =>
    read(given, context, METRES, (from, unit, pricePerMetre) => ({
      fromMm: unit === 'mm' ? from : Math.round(from * 1000 * 1e6) / 1e6,
      pricePerMetre,
    })),
};

type Breaks = NonNullable<Offer['breaks']>;

/** Breaks as their short form. */
export function breaksShort(breaks: Breaks, context: ShortContext): string {
  return joined(
    breaks.map((entry) =>
      'fromMm' in entry
        ? `${decimalText(entry.fromMm / 1000, context)} m: ${moneyShort(entry.pricePerMetre, context)}`
        : `${entry.fromPacks}: ${moneyShort(entry.packPrice, context)}`,
    ),
    context,
  );
}

const CONTENTS = 'ring-6-15: 10, bullet-47: 5';
/** What is in a kit: each part with how many. */
export const contentsForm: ShortForm = {
  examples: [CONTENTS],
  read: (given, context) => {
    const contents: { part: string; quantity: number }[] = [];
    for (const entry of entriesOf(given, context)) {
      const match = /^(\S+)\s*:\s*(\d+)$/.exec(entry) ?? counted(/^(\d+)\s*[x×]\s*(\S+)$/.exec(entry));
      if (!match)
        return wrong(
          `What is in a kit is written as in "${CONTENTS}": the part, a colon, how many; "${entry}" is no such pair`,
        );
      contents.push({ part: match[1] ?? '', quantity: Number(match[2]) });
    }
    return { value: contents };
  },
};

const counted = (match: RegExpExecArray | null): [string, string, string] | undefined =>
  match ? [match[0], match[2] ?? '', match[1] ?? ''] : undefined;

export function contentsShort(
  contents: readonly { part: string; quantity: number }[],
  context: ShortContext,
): string {
  return joined(
    contents.map(({ part, quantity }) => `${part}: ${quantity}`),
    context,
  );
}
