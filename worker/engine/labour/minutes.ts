import type { LoomLabour } from '../model/buildOrBuy.ts';
import { OPERATION_NAMES, operationOf, type Operation } from '../model/labour.ts';
import type { SettingValues } from '../model/settings.ts';
import {
  fraction,
  fractionOf,
  minus,
  ONE,
  plus,
  roundOf,
  times,
  NOTHING,
  type Fraction,
} from '../units/fraction.ts';
import type { Counts } from './count.ts';

type Rows = LoomLabour['operations'];
type Minutes = Pick<SettingValues, 'labourMinutes' | 'firstLoomPercent'>;

/** Hundredths of a minute for each, and whether that is a default. */
interface Each {
  hundredths: number;
  byDefault: boolean;
}

const MM_PER_METRE = 1000;
const isInMetres = (operation: Operation) => operationOf(operation).unit === 'metre';

/**
 * The counts of one loom as rows for all looms that are made alike, with their minutes. Rows are rounded half-up to hundredths of
 * a minute and everything is summed from them, so that rows add up to totals. What the first loom takes longer is a row of its own.
 */
export function rowsOf(counts: Counts, quantity: number, settings: Minutes): Rows {
  const rows = OPERATION_NAMES.flatMap((operation): Rows => {
    const each = minutesEach(operation, settings);
    const { unit, isOnce, label } = operationOf(operation);
    const done = (counts.get(operation) ?? 0) * (isOnce ? 1 : quantity);
    if (done === 0) return [];
    return [
      {
        operation,
        label,
        count: isInMetres(operation) ? done / MM_PER_METRE : done,
        unit,
        minutesEach: each.hundredths / 100,
        minutes: minutesOf(hundredthsOf(operation, done, each)),
        ...(each.byDefault ? { byDefault: true as const } : {}),
      },
    ];
  });
  const more = minus(fraction(...percent(settings.firstLoomPercent)), ONE);
  const longer = minutesOf(times(oneLoom(counts, settings), more));
  if (longer === 0) return rows;
  const label = `the first loom: ${settings.firstLoomPercent - 100} % longer`;
  return [
    ...rows,
    { operation: 'firstLoom', label, count: 1, unit: 'loom', minutesEach: longer, minutes: longer },
  ];
}

/** Minutes in the vehicle that are spent on a bought loom of this kind, too: taking the old one off, fitting and testing. */
export function minutesIfBought(rows: Rows): number {
  return sumOfMinutes(rows.filter(({ operation }) => isEvenIfBought(operation)));
}

function isEvenIfBought(operation: string): boolean {
  return OPERATION_NAMES.some((name) => name === operation && operationOf(name).evenIfBought);
}

/** The sum of printed minutes, exact in hundredths. */
export function sumOfMinutes(rows: readonly { minutes: number }[]): number {
  return rows.reduce((sum, { minutes }) => sum + Math.round(minutes * 100), 0) / 100;
}

function minutesEach(operation: Operation, { labourMinutes }: Minutes): Each {
  const own = labourMinutes.find((rule) => rule.operation === operation);
  return own
    ? { hundredths: Math.round(own.minutes * 100), byDefault: false }
    : { hundredths: operationOf(operation).hundredths, byDefault: true };
}

/** Exact hundredths of a minute. */
function hundredthsOf(operation: Operation, done: number, { hundredths }: Each): Fraction {
  return fraction(BigInt(done) * BigInt(hundredths), isInMetres(operation) ? BigInt(MM_PER_METRE) : 1n);
}

function oneLoom(counts: Counts, settings: Minutes): Fraction {
  return [...counts].reduce(
    (sum, [operation, done]) => plus(sum, hundredthsOf(operation, done, minutesEach(operation, settings))),
    NOTHING,
  );
}

function minutesOf(hundredths: Fraction): number {
  return Number(roundOf(hundredths)) / 100;
}

function percent(value: number): [bigint, bigint] {
  const { over, under } = fractionOf(value);
  return [over, under * 100n];
}
