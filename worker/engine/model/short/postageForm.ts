import type { Money } from '../money.ts';
import type { Supplier } from '../supplier.ts';
import { wrong, type Reading, type ShortContext, type ShortForm } from './form.ts';
import { moneyOf, moneyShort } from './moneyForm.ts';
import { decimalOf, decimalText, entriesOf, joined } from './numbers.ts';

type Postage = NonNullable<Supplier['postage']>;
const EXAMPLES = [
  '3.95, free from 40',
  '3.95, 5.50 from 20, free from 60',
  '3.10, 4.50 from 1 kg, free from 60',
];

/** Postage: "3.95, free from 40"; by weight "3.10, 4.50 from 1 kg, 7 from 5 kg, free from 60". */
export const postageForm: ShortForm = { examples: EXAMPLES, read: readPostage };

/** The figures of a text that is no postage, as they would be written. */
function own(given: string): string {
  const [charge, free] = [...given.matchAll(/\d+(\.\d+)?/g)].map(([figure]) => figure);
  return charge === undefined ? (EXAMPLES[0] ?? '') : `${charge}, free from ${free ?? '40'}`;
}

interface Entry {
  /** None: free. */
  charge: string | undefined;
  from: { value: string } | { g: string } | undefined;
}

function readPostage(given: string, context: ShortContext): Reading {
  const entries: Entry[] = [];
  for (const text of entriesOf(given, context)) {
    const entry = entryOf(text, context);
    if (!entry)
      return wrong(
        `Postage is written as in "${own(given)}" or "${EXAMPLES[2] ?? ''}"; "${text}" is no part of that`,
      );
    entries.push(entry);
  }
  const byWeight = entries.some(({ from }) => from && 'g' in from);
  try {
    return { value: byWeight ? weights(entries, context) : values(entries, context) };
  } catch (error) {
    if (error instanceof NotRead) return error.reading;
    throw error;
  }
}

/** Carries what is wrong out of the middle of a list. */
class NotRead extends Error {
  readonly reading: Reading;
  constructor(reading: Reading) {
    super('not read');
    this.reading = reading;
  }
}

function entryOf(text: string, context: ShortContext): Entry | undefined {
  const match = /^(free|[£€$]?\s?[\d.,]+\s?(?:[£€$]|[a-z]{3})?)(?: (?:from|over) (.+?)( ?(?:kg|g))?)?$/i.exec(
    text,
  );
  if (!match) return undefined;
  const [, charge = '', from, unit] = match;
  const free = /^free$/i.test(charge);
  if (unit === undefined)
    return { charge: free ? undefined : charge, from: from === undefined ? undefined : { value: from } };
  const weight = decimalOf(from ?? '', context);
  if (typeof weight !== 'string') return undefined;
  const g = unit.trim().toLowerCase() === 'kg' ? Number(weight) * 1000 : Number(weight);
  return { charge: free ? undefined : charge, from: { g: String(Math.round(g)) } };
}

function money(text: string, context: ShortContext): Money {
  const read = moneyOf(text, context);
  if ('code' in read) throw new NotRead(read);
  return read;
}

function nothing(context: ShortContext): Money {
  if (context.currency === undefined)
    throw new NotRead(wrong('Nothing says which currency this postage is in. State the supplier’s currency'));
  return { amount: '0', currency: context.currency };
}

const chargeOf = ({ charge }: Entry, context: ShortContext) =>
  charge === undefined ? nothing(context) : money(charge, context);

function values(entries: readonly Entry[], context: ShortContext): Postage {
  return {
    by: 'value',
    bands: entries.map((entry) => ({
      fromValue: entry.from && 'value' in entry.from ? money(entry.from.value, context) : nothing(context),
      charge: chargeOf(entry, context),
    })),
  };
}

/** The last entry may be free from a value: all others are by weight. */
function weights(entries: readonly Entry[], context: ShortContext): Postage {
  const last = entries.at(-1);
  const free =
    last && last.charge === undefined && last.from && 'value' in last.from ? last.from.value : undefined;
  const bands = (free === undefined ? entries : entries.slice(0, -1)).map((entry) => {
    if (entry.from && 'value' in entry.from)
      throw new NotRead(
        wrong(
          'Postage goes by weight or by what the goods are worth, not by both; only "free from 40" may end a list by weight',
        ),
      );
    return { fromG: entry.from ? Number(entry.from.g) : 0, charge: chargeOf(entry, context) };
  });
  return {
    by: 'weight',
    bands,
    ...(free === undefined ? {} : { freeFromValue: money(free, context) }),
  };
}

/** Postage as its short form. */
export function postageShort(postage: Postage, context: ShortContext): string {
  const charge = (amount: Money) => (Number(amount.amount) === 0 ? 'free' : moneyShort(amount, context));
  if (postage.by === 'value')
    return joined(
      postage.bands.map(({ fromValue, charge: amount }, index) =>
        index === 0 ? charge(amount) : `${charge(amount)} from ${moneyShort(fromValue, context)}`,
      ),
      context,
    );
  return joined(
    [
      ...postage.bands.map(({ fromG, charge: amount }, index) =>
        index === 0 && postage.bands.length > 1
          ? charge(amount)
          : `${charge(amount)} from ${decimalText(fromG, context)} g`,
      ),
      ...(postage.freeFromValue ? [`free from ${moneyShort(postage.freeFromValue, context)}`] : []),
    ],
    context,
  );
}
