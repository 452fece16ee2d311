import type { LeftOut, Requirement, Result } from '../engine/model/result.ts';
import { metres } from '../engine/units/length.ts';
import { shelfItem } from './names.ts';
import { table, under, type Block } from './block.ts';

type LengthNeed = Extract<Requirement, { kind: 'length' }>;
type CountNeed = Extract<Requirement, { kind: 'count' }>;

/** What is bought, in words; where it stands in, with what the looms name beside it. */
export function labelOf({ label, boughtAs }: Requirement): string {
  return boughtAs ? `${boughtAs.map((each) => each.label).join(' and ')}, in place of ${label}` : label;
}

/** The code of the same. */
function codeOf({ part, boughtAs }: LengthNeed | CountNeed): string {
  return boughtAs ? `${boughtAs.map((each) => each.part).join(' and ')}, in place of ${part}` : part;
}

/** How much is needed: metres, or a number. */
export function neededOf(need: Requirement): string {
  return need.kind === 'count' ? `${need.quantity}` : metres(need.totalMm);
}

/** All needs, a line each: wire, then sleeve, tape and cable, then parts, then what is not bought. */
export function needs(result: Result): Block[] {
  const { requirements } = result;
  const of = (kind: Requirement['kind']) => requirements.filter((need) => need.kind === kind);
  const needed = { head: 'Needed', align: 'right' } as const;
  const coded = (need: Requirement) => (need.kind === 'wire' ? '' : codeOf(need));
  const named = (head: string, kind: Requirement['kind']) =>
    table(
      [{ head, wraps: true }, { head: 'Code', wraps: true }, needed],
      of(kind).map((need) => [labelOf(need), coded(need), neededOf(need)]),
    );
  return [
    ...table(
      [{ head: 'Wire', wraps: true }, needed],
      of('wire').map((need) => [labelOf(need), neededOf(need)]),
    ),
    ...named('Sleeve, tape, cable', 'length'),
    ...named('Part', 'count'),
    ...fromStock(result),
    ...table(
      [{ head: 'Needed, but not bought', wraps: true }, { head: 'Because', wraps: true }, needed],
      result.leftOut.map((line) => [line.label, becauseOf(line), leftOutAmount(line)]),
    ),
  ];
}

/** What comes off the shelf. */
function fromStock(result: Result): Block[] {
  return table(
    [
      { head: 'From the shelf', wraps: true },
      { head: 'Item', wraps: true },
      { head: 'Part', wraps: true },
      { head: 'Taken', align: 'right' },
    ],
    result.fromStock.map(({ label, stock, part, insteadOf, count, lengthMm, ...whose }) => [
      label,
      shelfItem(stock, whose),
      insteadOf === undefined ? part : `${part} in place of ${insteadOf}`,
      lengthMm === undefined ? `${count}` : `${count} × ${metres(lengthMm)}`,
    ]),
  );
}

const SUPPLY_WORDS: Record<LeftOut['supply'], string> = {
  reuse: 'reused from the old loom',
  stock: 'from stock',
  ownerSupplies: 'the owner supplies it',
  otherLoom: 'the other loom brings it',
};

/** "reused from the old loom, by the setting deviceSupply" */
function becauseOf({ supply, bySetting }: LeftOut): string {
  return `${SUPPLY_WORDS[supply]}${bySetting === undefined ? '' : `, by the setting ${bySetting}`}`;
}

function leftOutAmount({ quantity, totalMm }: LeftOut): string {
  if (totalMm !== undefined) return metres(totalMm);
  return quantity === undefined ? 'length not known' : `${quantity}`;
}

/** Where what is not bought belongs. */
export function leftOutPlaces({ leftOut }: Result): Block[] {
  return under(
    'Needed, but not bought',
    table(
      [
        { head: 'What', wraps: true },
        { head: 'Code', wraps: true },
        { head: 'Where', wraps: true },
      ],
      leftOut.map(({ label, part, where }) => [
        label,
        part ?? '',
        where.map((place) => `${place.loom}: ${place.where}`).join('; '),
      ]),
    ),
  );
}
