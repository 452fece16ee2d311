import type { BuildOrBuy, Combination } from '../../engine/model/buildOrBuy.ts';
import type { Result } from '../../engine/model/result.ts';
import { counted } from '../amounts.ts';
import {
  groups,
  list,
  pictured,
  table,
  text,
  under,
  type Block,
  type Column,
  type Section,
} from '../block.ts';
import { without } from '../money.ts';
import { costLines, LINE_NAMES } from './lines.ts';
import { hourPicture } from './picture.ts';
import { buildOrBuySentence, leadingOf } from './sentence.ts';
import { allOf, combinationWords, hasDefaults, hoursText, loomNames, toldOf } from './words.ts';

export const NO_COMPARISON: Record<NonNullable<Result['buildOrBuyState']>, string> = {
  working: 'Building is still being compared with buying made. Read the quote again when its task is done.',
  cancelled: 'Building was not compared with buying made: it was cancelled. Ask for a new quote to see it.',
  failed: 'Building could not be compared with buying made. Ask for a new quote to see it.',
};

const ORDERED: Record<BuildOrBuy['order'], string> = {
  cheapest: 'The order lists are for the cheapest combination.',
  build:
    'The order lists are for building all looms. To have them for the cheapest combination, set order to cheapest under buildOrBuy in the request.',
};

const number = (head: string): Column => ({ head, align: 'right' });

/** What the comparison says to whoever has to decide. */
export function buildOrBuySection(result: Result): Section {
  const { buildOrBuy: known, buildOrBuyState } = result;
  if (!known)
    return {
      title: 'Build or buy',
      blocks: buildOrBuyState === undefined ? [] : text(NO_COMPARISON[buildOrBuyState]),
    };
  return {
    title: 'Build or buy',
    blocks: [
      ...text(leadingOf(result).length < buildOrBuySentence(result).length ? buildOrBuySentence(result) : ''),
      ...text(ORDERED[known.order]),
      ...combinationsTable(known),
      ...under('What it costs by the worth of an hour', [
        ...pictured(hourPicture(known)),
        ...worthTable(known),
      ]),
      ...under('By loom', byLoom(result, known)),
      ...under('Tools and consumables', tools(known)),
      ...under(
        'Cannot be bought instead',
        list(
          known.madeUp.flatMap(({ label, part, why }) =>
            why === undefined ? [] : [`${label} (${part}): ${why}.`],
          ),
        ),
      ),
      ...under('What this does not count', list(known.leftOut)),
    ],
  };
}

const DEFAULT_MINUTES =
  'The hours come from default minutes for each operation, from memory, no source. Put your own in the setting labourMinutes: see Labour by operation in the appendix.';

/** The hours of each loom by operation, for whoever wants to put in minutes of their own. */
export function labourSection(result: Result): Section {
  const { buildOrBuy: known } = result;
  if (!known) return { title: 'Labour by operation', blocks: [] };
  const nameOf = loomNames(result);
  return {
    title: 'Labour by operation',
    blocks: [
      ...text(
        hasDefaults(known)
          ? 'Minutes with a star (*) are defaults, from memory, no source. Put your own in the setting labourMinutes.'
          : '',
      ),
      ...groups(
        [
          { head: 'Operation', wraps: true },
          number('How many'),
          { head: 'For each' },
          number('Minutes each'),
          number('Minutes'),
        ],
        known.labour.map(({ loom, quantity, minutes, minutesIfBought, operations }) => ({
          head: `${quantity} × ${nameOf(loom)}: ${hoursText(minutes)}, or ${hoursText(minutesIfBought)} if bought made`,
          rows: operations.map(({ label, count, unit, minutesEach, minutes: all, byDefault }) => [
            label,
            `${count}`,
            unit,
            `${minutesEach}${byDefault ? ' *' : ''}`,
            all.toFixed(2),
          ]),
        })),
      ),
    ],
  };
}

/** All built and all bought first; the best is marked. */
function combinationsTable(known: BuildOrBuy): Block[] {
  const { currency } = known.hourWorth;
  const anyTools = known.combinations.some(({ tools: all }) => all.length > 0);
  return [
    ...table(
      [
        { head: 'Built or bought', wraps: true },
        number(`Paid, ${currency}`),
        ...(anyTools ? [number('Tools')] : []),
        number('Without labour'),
        number('Hours'),
        number('Labour'),
        number('With labour'),
        { head: 'There in', wraps: true },
      ],
      known.combinations.map((one, place) => [
        `${combinationWords(one)}${remark(one, place === known.best)}`,
        one.delivered?.amount ?? '',
        ...(anyTools ? [toolsAmount(one)] : []),
        one.cost?.amount ?? '',
        hoursText(one.minutes),
        one.labour.amount,
        one.total?.amount ?? '',
        leadWords(one),
      ]),
    ),
    ...notes(known),
    ...text(hasDefaults(known) ? DEFAULT_MINUTES : ''),
  ];
}

/** What tools and consumables add to what is paid, or take off it. */
function toolsAmount({ cost, delivered }: Combination): string {
  return cost && delivered ? without(cost.amount, [delivered.amount], cost.currency) : '';
}

const STATES: Record<Combination['state'], string> = {
  proven: '',
  bestSoFar: 'not proven',
  ruledOut: 'cannot be the cheapest',
  notWorked: 'not worked out',
  impossible: 'cannot be bought together, or not in the number needed',
};

function remark({ state, unsourced = 0, leftOut = 0 }: Combination, isBest: boolean): string {
  const words = [
    ...(isBest ? ['the cheapest'] : []),
    ...(STATES[state] === '' ? [] : [STATES[state]]),
    ...(unsourced > 0 ? [`without ${counted(unsourced, 'need')} not sourced`] : []),
    ...(leftOut > 0 ? [`without ${counted(leftOut, 'need')} that cannot be bought with the rest`] : []),
  ];
  return words.length === 0 ? '' : ` (${words.join('; ')})`;
}

function leadWords({ leadDays, leadUnknown = 0 }: Combination): string {
  const open = leadUnknown === 0 ? '' : `${counted(leadUnknown, 'line')} not known`;
  if (leadDays === undefined) return open;
  return `${counted(leadDays, 'day')}${open === '' ? '' : `, ${open}`}`;
}

function notes({ notWorked }: BuildOrBuy): Block[] {
  if (!notWorked) return [];
  const { combinations, why } = notWorked;
  const what = `${counted(combinations, 'combination')} ${combinations === 1 ? 'was' : 'were'} not worked out`;
  return text(
    why === 'time'
      ? `${what}, because the time was over. Give more time (the setting buildOrBuySeconds).`
      : `${what}, because there are too many.`,
  );
}

/** The figures of the picture: what each costs at some worths of an hour. */
function worthTable(known: BuildOrBuy): Block[] {
  const drawn = costLines(known);
  if (!drawn) return [];
  const meets = known.againstBest?.hourWorth;
  const remarks = { start: '', crossing: 'both cost the same', yours: 'yours', end: '' } as const;
  return [
    ...table(
      [number('An hour is worth'), ...drawn.lines.map(({ kind }) => number(LINE_NAMES[kind])), { head: '' }],
      drawn.worths.map(({ text: worth, is }, at) => [
        worth,
        ...drawn.lines.map(({ points }) => points[at]?.totalText ?? ''),
        is.flatMap((one) => (remarks[one] === '' ? [] : [remarks[one]])).join(', '),
      ]),
    ),
    ...text(
      meets
        ? `All built and the cheapest combination cost the same if an hour is worth ${meets.amount} ${meets.currency}.`
        : '',
    ),
  ];
}

/** Each loom with what can be bought instead, and what is done in the cheapest combination. */
function byLoom(result: Result, known: BuildOrBuy): Block[] {
  if (known.labour.length < 2 && known.madeUp.every(({ why }) => why !== undefined)) return [];
  const nameOf = loomNames(result);
  const { best } = toldOf(known);
  return table(
    [
      { head: 'Loom', wraps: true },
      number('How many'),
      number('Hours if built'),
      number('If bought'),
      { head: 'Can be bought as', wraps: true },
      { head: 'In the cheapest', wraps: true },
    ],
    known.labour.map(({ loom, quantity, minutes, minutesIfBought }) => {
      const offered = known.madeUp.filter(({ looms, why }) => why === undefined && looms.includes(loom));
      const taken = best?.bought.find(({ looms }) => looms.includes(loom));
      return [
        nameOf(loom) === loom ? loom : `${nameOf(loom)} (${loom})`,
        `${quantity}`,
        hoursText(minutes),
        hoursText(minutesIfBought),
        allOf(
          offered.map(
            ({ label, part, looms }) =>
              `${label} (${part}${looms.length > 1 ? `, ${looms.length} looms at once` : ''})`,
          ),
        ) || 'nothing',
        taken ? `bought: ${taken.part}` : 'built',
      ];
    }),
  );
}

/** Tools and consumables of building all, else of the cheapest. */
function tools(known: BuildOrBuy): Block[] {
  const { allBuilt, best } = toldOf(known);
  const all = [allBuilt, best].find((one) => (one?.tools.length ?? 0) > 0)?.tools ?? [];
  return table(
    [
      { head: 'For building', wraps: true },
      number('Paid'),
      number(`Counted here, ${known.hourWorth.currency}`),
    ],
    all.map(({ label, paid, counted: share }) => [label, paid.amount, share.amount]),
  );
}
