import type { Beside } from '../engine/model/beside.ts';
import type { Result } from '../engine/model/result.ts';
import { counted } from './amounts.ts';
import { paragraph, textTable, type Column } from './textTable.ts';

type Mix = NonNullable<Beside['otherSet']>;

const NOT_THERE: Record<NonNullable<Result['besideState']>, string> = {
  working: 'This is still being worked. Read the quote again when its task is done.',
  cancelled: 'This was not worked to its end, since it was cancelled. Ask for a new quote to see it.',
  failed: 'This could not be worked. Ask for a new quote to see it.',
};

/** So many of the offers of which nothing is bought are written out. */
const NEAREST = 10;

/** What other mixes would cost, what each line would cost elsewhere, and how far losing offers are from winning. */
export function beside({ beside: known, besideState, currency }: Result): string {
  if (!known) return besideState === undefined ? '' : paragraph(NOT_THERE[besideState]);
  return [
    // The quote's own alone would say nothing.
    known.bySuppliers.length > 1
      ? mixes(currency, 'Cheapest from at most', known.bySuppliers, ({ atMost }) =>
          counted(atMost, 'supplier'),
        )
      : '',
    mixes(
      currency,
      'Cheapest there by',
      known.byDay,
      ({ day, leadDays }) => `${day} (${counted(leadDays, 'day')})`,
    ),
    leadsUnknown(known),
    otherSet(known, currency),
    elsewhere(known, currency),
    falls(known),
    unfinished(known),
  ]
    .filter((text) => text !== '')
    .join('\n\n');
}

/** Rows of mixes; columns that would say nothing are left out. */
function mixes<T extends Mix>(
  currency: string,
  head: string,
  list: readonly T[],
  nameOf: (mix: T) => string,
): string {
  const some = list.some(({ unmet }) => unmet > 0);
  const open = list.some(({ proven }) => !proven);
  const columns: Column[] = [
    { head },
    { head: 'From', wraps: true },
    ...(some ? [{ head: 'Needs unmet', align: 'right' } as const] : []),
    { head: currency, align: 'right' },
    { head: 'More than this quote', align: 'right' },
    ...(open ? [{ head: 'Proven', wraps: true } as const] : []),
  ];
  const least = Math.min(...list.map(({ unmet }) => unmet));
  return textTable(
    columns,
    list.map((mix) => [
      nameOf(mix),
      mix.suppliers.join(', '),
      ...(some ? [mix.unmet === 0 ? '' : `${mix.unmet}`] : []),
      mix.total.amount,
      mix.unmet > least ? 'not the same' : mix.more.amount,
      ...(open ? [mix.proven ? 'yes' : `no, but ${mix.bound.amount} at least`] : []),
    ]),
  );
}

function leadsUnknown({ byDay }: Beside): string {
  const most = Math.max(0, ...byDay.map(({ leadUnknown }) => leadUnknown));
  return most === 0
    ? ''
    : paragraph(
        `Of up to ${counted(most, 'line')} in these no lead days are entered; they are taken to be there in time.`,
      );
}

function otherSet({ otherSet: other, unfinished: left }: Beside, currency: string): string {
  const isOpen = left.some(({ part }) => part === 'otherSet');
  if (!other)
    return isOpen ? '' : paragraph('No other set of suppliers can meet as many needs as this quote.');
  const proof = other.proven
    ? ''
    : ` It is not proven the cheapest of these: none costs less than ${other.bound.amount} ${currency}, not rounded.`;
  return paragraph(
    `Cheapest from another set of suppliers, ${other.suppliers.join(', ')}: ${other.total.amount} ${currency}, ${other.more.amount} more than this quote.${proof}`,
  );
}

const STAYS = {
  nobodyElse: 'as nobody else in this mix can supply them',
  minimumOrder: 'as what is left at their supplier would be below its minimum order',
  insistedOn: 'as their supplier is insisted on and nothing else comes from it',
} as const;

/** What changes where one line alone is bought from the others of the mix. */
function elsewhere({ elsewhere: lines }: Beside, currency: string): string {
  const table = textTable(
    [
      { head: 'Line of', wraps: true },
      { head: 'Offer', wraps: true },
      { head: 'Elsewhere in this mix', wraps: true },
      { head: `More, ${currency}`, align: 'right' },
    ],
    lines.flatMap(({ supplier, offer, from, more }) =>
      more === undefined
        ? []
        : [
            [
              supplier,
              offer,
              from.map((there) => `${there.offer} of ${there.supplier}`).join(', ') ||
                'what is bought already',
              more.amount,
            ],
          ],
    ),
  );
  const staying = Object.entries(STAYS).flatMap(([why, words]) => {
    const count = lines.filter((line) => line.why === why).length;
    return count === 0 ? [] : [paragraph(`Without another supplier: ${counted(count, 'line')}, ${words}.`)];
  });
  return [table, staying.join('\n')].filter((text) => text !== '').join('\n\n');
}

/** The offers that are nearest to winning; a bound, not the price at which they win. One of nothing is not told. */
function falls({ falls: list, fallsUnknown = 0 }: Beside): string {
  const nearest = list.filter(({ never, fallPercent }) => !never && fallPercent > 0);
  const rest = nearest.length - NEAREST;
  const never = list.filter((fall) => fall.never).length;
  // Results made before these were counted apart list them.
  const unknown = fallsUnknown + list.length - nearest.length - never;
  return [
    textTable(
      [
        { head: 'Of which nothing is bought', wraps: true },
        { head: 'Of', wraps: true },
        { head: 'Price', align: 'right' },
        { head: 'Must fall by', align: 'right' },
        { head: 'So to', align: 'right' },
      ],
      nearest
        .slice(0, NEAREST)
        .map(({ offer, supplier, price, fallPercent, priceAtMost }) => [
          offer,
          supplier,
          `${price.amount} ${price.currency}`,
          `at least ${fallPercent} %`,
          `${priceAtMost.amount} or less`,
        ]),
    ),
    ...(rest > 0
      ? [paragraph(`${counted(rest, 'more offer')} must fall by at least as much as the last of these.`)]
      : []),
    ...(never > 0
      ? [paragraph(`Of ${counted(never, 'offer')} no price is low enough, not even nothing.`)]
      : []),
    ...(unknown > 0
      ? [
          paragraph(
            `Of ${counted(unknown, 'more offer')} it is not known how far they must fall. Ask for the winning price of one that matters.`,
          ),
        ]
      : []),
  ]
    .filter((text) => text !== '')
    .join('\n');
}

const PARTS: Record<Beside['unfinished'][number]['part'], string> = {
  bySuppliers: 'mixes from fewer suppliers',
  byDay: 'days',
  otherSet: 'other sets of suppliers',
  elsewhere: 'lines elsewhere',
  falls: 'losing offers',
};

function unfinished({ unfinished: list }: Beside): string {
  const said = (why: Beside['unfinished'][number]['why']) =>
    list
      .filter((one) => one.why === why)
      .map(({ part, left }) => `${PARTS[part]} (${left})`)
      .join(', ');
  const [time, number] = [said('time'), said('number')];
  return [
    ...(time === ''
      ? []
      : [paragraph(`Not worked to the end: ${time}. Give it more time (the setting besideSeconds).`)]),
    ...(number === '' ? [] : [paragraph(`Left out, as only so many are worked: ${number}.`)]),
  ].join('\n');
}
