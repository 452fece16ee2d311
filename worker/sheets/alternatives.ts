import type { Beside } from '../engine/model/beside.ts';
import type { Result } from '../engine/model/result.ts';
import { counted } from './amounts.ts';
import { list, table, text, type Block, type Column } from './block.ts';
import { supplierNames } from './names.ts';

type Mix = NonNullable<Beside['otherSet']>;

export const NOT_THERE: Record<NonNullable<Result['besideState']>, string> = {
  working: 'Close alternatives are still being worked out. Read the quote again when its task is done.',
  cancelled: 'Close alternatives were cancelled. Ask for a new quote to see them.',
  failed: 'Close alternatives could not be worked out. Ask for a new quote to see them.',
};

/** So many of the offers of which nothing is bought are written out. */
const NEAREST = 10;

type Name = (code: string) => string;

/** What other mixes would cost, what each line would cost elsewhere, and how far losing offers are from winning. */
export function alternatives(result: Result): Block[] {
  const { beside: known, besideState, currency } = result;
  if (!known) return besideState === undefined ? [] : text(NOT_THERE[besideState]);
  const name = supplierNames(result);
  return [
    // The quote's own alone would say nothing.
    ...(known.bySuppliers.length > 1
      ? mixes(currency, 'From at most', known.bySuppliers, name, ({ atMost }) => counted(atMost, 'supplier'))
      : []),
    ...mixes(
      currency,
      'There by',
      known.byDay,
      name,
      ({ day, leadDays }) => `${day} (${counted(leadDays, 'day')})`,
    ),
    ...leadsUnknown(known),
    ...otherSet(known, currency, name),
    ...elsewhere(known, currency, name),
    ...falls(known, name),
    ...unfinished(known),
  ];
}

/** Rows of mixes; columns that would say nothing are left out. */
function mixes<T extends Mix>(
  currency: string,
  head: string,
  all: readonly T[],
  name: Name,
  nameOf: (mix: T) => string,
): Block[] {
  const some = all.some(({ unmet }) => unmet > 0);
  const open = all.some(({ proven }) => !proven);
  const columns: Column[] = [
    { head },
    { head: 'From', wraps: true },
    ...(some ? [{ head: 'Needs unmet', align: 'right' } as const] : []),
    { head: currency, align: 'right' },
    { head: 'More than this quote', align: 'right' },
    ...(open ? [{ head: 'Proven', wraps: true } as const] : []),
  ];
  const least = Math.min(...all.map(({ unmet }) => unmet));
  return table(
    columns,
    all.map((mix) => [
      nameOf(mix),
      mix.suppliers.map(name).join(', '),
      ...(some ? [mix.unmet === 0 ? '' : `${mix.unmet}`] : []),
      mix.total.amount,
      mix.unmet > least ? 'not the same' : mix.more.amount,
      ...(open ? [mix.proven ? 'yes' : `no; cannot be under ${mix.bound.amount}`] : []),
    ]),
  );
}

function leadsUnknown({ byDay }: Beside): Block[] {
  const most = Math.max(0, ...byDay.map(({ leadUnknown }) => leadUnknown));
  return most === 0
    ? []
    : text(
        `Up to ${counted(most, 'line')} in these mixes ${most === 1 ? 'has' : 'have'} no lead days entered. They are assumed to be there in time.`,
      );
}

function otherSet(known: Beside, currency: string, name: Name): Block[] {
  const { otherSet: other, unfinished: left } = known;
  const isOpen = left.some(({ part }) => part === 'otherSet');
  if (!other) return isOpen ? [] : text('No other set of suppliers can meet as many needs as this quote.');
  const proof = other.proven
    ? ''
    : ` Not proven; it cannot be under ${other.bound.amount} ${currency}, not rounded.`;
  return text(
    `Cheapest from another set of suppliers, ${other.suppliers.map(name).join(', ')}: ${other.total.amount} ${currency}, ${other.more.amount} more than this quote.${proof}`,
  );
}

const STAYS = {
  nobodyElse: 'no other supplier in this mix can supply them',
  minimumOrder: 'the rest of the order would be below the minimum order',
  insistedOn: 'the supplier is insisted on and nothing else comes from it',
} as const;

/** What changes where one line alone is bought from the others of the mix. */
function elsewhere({ elsewhere: lines }: Beside, currency: string, name: Name): Block[] {
  const staying = Object.entries(STAYS).flatMap(([why, words]) => {
    const count = lines.filter((line) => line.why === why).length;
    return count === 0 ? [] : [`${counted(count, 'line')} cannot move: ${words}.`];
  });
  return [
    ...table(
      [
        { head: 'Line of', wraps: true },
        { head: 'Offer', wraps: true },
        { head: 'Instead, in this mix', wraps: true },
        { head: `More, ${currency}`, align: 'right' },
      ],
      lines.flatMap(({ supplier, offer, from, more }) =>
        more === undefined
          ? []
          : [
              [
                name(supplier),
                offer,
                from.map((there) => `${there.offer} of ${name(there.supplier)}`).join(', ') ||
                  'what is bought already',
                more.amount,
              ],
            ],
      ),
    ),
    ...list(staying),
  ];
}

/** The offers that are nearest to winning; a bound, not the price at which they win. One of nothing is not told. */
function falls({ falls: all, fallsUnknown = 0 }: Beside, name: Name): Block[] {
  const nearest = all.filter(({ never, fallPercent }) => !never && fallPercent > 0);
  const rest = nearest.length - NEAREST;
  const never = all.filter((fall) => fall.never).length;
  // Results made before these were counted apart list them.
  const unknown = fallsUnknown + all.length - nearest.length - never;
  return [
    ...table(
      [
        { head: 'Offer not bought', wraps: true },
        { head: 'Of', wraps: true },
        { head: 'Price', align: 'right' },
        { head: 'Must fall by', align: 'right' },
        { head: 'So to', align: 'right' },
      ],
      nearest
        .slice(0, NEAREST)
        .map(({ offer, supplier, price, fallPercent, priceAtMost }) => [
          offer,
          name(supplier),
          `${price.amount} ${price.currency}`,
          `at least ${fallPercent} %`,
          `${priceAtMost.amount} or less`,
        ]),
    ),
    ...list([
      ...(rest > 0
        ? [`${counted(rest, 'more offer')} must fall by at least as much as the last of these.`]
        : []),
      ...(never > 0 ? [`For ${counted(never, 'offer')} no price is low enough, not even 0.`] : []),
      ...(unknown > 0
        ? [
            `For ${counted(unknown, 'more offer')} it is not known how far they must fall. Ask for the winning price of one that matters.`,
          ]
        : []),
    ]),
  ];
}

const PARTS: Record<Beside['unfinished'][number]['part'], string> = {
  bySuppliers: 'mixes from fewer suppliers',
  byDay: 'days',
  otherSet: 'other sets of suppliers',
  elsewhere: 'lines elsewhere',
  falls: 'losing offers',
};

function unfinished({ unfinished: all }: Beside): Block[] {
  const said = (why: Beside['unfinished'][number]['why']) =>
    all
      .filter((one) => one.why === why)
      .map(({ part, left }) => `${PARTS[part]} (${left})`)
      .join(', ');
  const [time, number] = [said('time'), said('number')];
  return [
    ...text(time === '' ? '' : `Not finished: ${time}. Give more time (the setting besideSeconds).`),
    ...text(number === '' ? '' : `Left out, since only so many are looked at: ${number}.`),
  ];
}
