import type { Beside } from '../engine/model/beside.ts';
import type { Comparison } from '../engine/model/comparison.ts';
import type { Finding } from '../engine/model/finding.ts';
import type { OrderList, Result } from '../engine/model/result.ts';
import { NOT_THERE } from './alternatives.ts';
import { counted } from './amounts.ts';
import { marginLines, minimumLines } from './margins.ts';
import { clipped, supplierNames, withRemedy } from './names.ts';
import { orderTitle } from './orderWords.ts';
import { shortFinding, stopsOf } from './remarks.ts';

/** Two lines of the page, set in. */
const TWO_LINES = 200;

const short = (words: string) => clipped(words, TWO_LINES);

/** What must be fixed before anything is bought. */
export function stops({ findings }: Result): string[] {
  return stopsOf(findings).map((finding) => shortFinding(finding, TWO_LINES));
}

/** Kinds of notes that ask for something before an order is sent. */
const ASKING = ['lead-time-not-known'];

/** What is to be asked or looked at before an order is sent: each warning, old prices together, and what is met by little. */
export function toAsk({ findings, orderLists }: Result): string[] {
  const asked = findings.filter(
    ({ severity, code, accepted }) =>
      accepted === undefined && code !== 'unsourced' && (severity === 'warning' || ASKING.includes(code)),
  );
  const isOld = ({ code }: Finding) => code === 'price-may-be-old';
  return [
    ...asked.filter((finding) => !isOld(finding)).map((finding) => shortFinding(finding, TWO_LINES)),
    ...oldPrices(asked.filter(isOld)),
    ...orderLists.flatMap((list) =>
      [...minimumLines(list), ...marginLines(list)].map((line) => short(`${nameOf(list)}: ${line}`)),
    ),
  ];
}

const nameOf = (list: OrderList) => clipped(orderTitle(list), 40);

function oldPrices(old: readonly Finding[]): string[] {
  const [first] = old;
  if (!first) return [];
  if (old.length === 1) return [shortFinding(first, TWO_LINES)];
  const where = old.map((finding) => finding.where).join('; ');
  return [
    short(`Warning: ${old.length} prices were seen too long ago. Look them up again. They are: ${where}`),
  ];
}

/** What no offer meets, and what to do about it. */
export function notSourced({ unsourced }: Result): string[] {
  return unsourced.map(({ label, why, todo }) => withRemedy(`${label}. ${why}`, todo, TWO_LINES));
}

/** What other ways to buy would cost, each in a line or two. */
export function otherWays(result: Result): string[] {
  const { comparisons, beside, besideState, currency } = result;
  const own = new Set(result.orderLists.map(({ supplier }) => supplier));
  const isOwn = ({ supplier, suppliers, unsourced, saving }: Comparison) =>
    unsourced === 0 &&
    Number(saving.amount) === 0 &&
    suppliers === own.size &&
    (supplier === undefined || own.has(supplier));
  const others = comparisons.filter((compared) => !isOwn(compared));
  const compared = others.map(({ kind, label, total, saving, unsourced, suppliers }) => {
    const more = unsourced > 0 ? 'not the same' : `${saving.amount} more`;
    const from = kind === 'oneShop' ? '' : `, from ${counted(suppliers, 'supplier')}`;
    return `${label}: ${total.amount} ${currency}, ${more}${from}`;
  });
  const near = beside
    ? close(beside, { currency, name: supplierNames(result), own })
    : besideState === undefined
      ? []
      : [NOT_THERE[besideState]];
  return [...compared, ...near].map(short);
}

type Mix = NonNullable<Beside['otherSet']>;

function close(
  { otherSet, bySuppliers, byDay }: Beside,
  { currency, name, own }: { currency: string; name: (code: string) => string; own: ReadonlySet<string> },
): string[] {
  const isOwn = ({ suppliers, more }: Mix) =>
    Number(more.amount) === 0 && suppliers.length === own.size && suppliers.every((code) => own.has(code));
  const fewestIn = (mixes: readonly Mix[]) => Math.min(...mixes.map(({ unmet }) => unmet));
  // The last of them is this quote; so is any that costs as much, from the same suppliers.
  const of = <T extends Mix>(mixes: readonly T[]) =>
    mixes.slice(0, -1).filter((mix) => mix.unmet > fewestIn(mixes) || !isOwn(mix));
  const words = (what: string, { total, more, unmet, proven }: Mix, fewest: number) =>
    `${what}: ${total.amount} ${currency}, ${unmet > fewest ? `not the same: ${counted(unmet, 'need')} unmet` : `${more.amount} more`}${proven ? '' : ' (not proven)'}`;
  return [
    ...(otherSet
      ? [
          words(
            `Another set of suppliers (${otherSet.suppliers.map((code) => clipped(name(code), 30)).join(', ')})`,
            otherSet,
            otherSet.unmet,
          ),
        ]
      : []),
    // One supplier is compared above.
    ...of(bySuppliers)
      .filter(({ atMost }) => atMost > 1)
      .map((mix) => words(`At most ${counted(mix.atMost, 'supplier')}`, mix, fewestIn(bySuppliers)))
      .reverse(),
    ...of(byDay).map((mix) =>
      words(`All there by ${mix.day} (${counted(mix.leadDays, 'day')})`, mix, fewestIn(byDay)),
    ),
  ];
}
