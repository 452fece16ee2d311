import type { Result } from '../../engine/model/result.ts';
import { clipped } from '../names.ts';
import { orderTitle } from '../orderWords.ts';
import { summed } from '../money.ts';
import { about, hatched, PICTURE_WIDTH, type Hatch, type Picture, type Shape } from './picture.ts';

const SIZE = 8;
const ROW = 20;
const BAR = 12;
const NAMES = 150;
const FIGURES = 170;
const LEGEND = 16;

const PARTS: readonly (readonly [string, Hatch])[] = [
  ['goods', 'plain'],
  ['postage and handling', 'slant'],
  ['tax, duty and fees', 'dark'],
];

/** What each order costs, as a bar of goods, postage and tax to one scale, with the figures beside it. None without orders. */
export function supplierBars({ orderLists, currency }: Result): Picture | undefined {
  if (orderLists.length === 0) return undefined;
  const rows = orderLists.map((list) => {
    const sum = (...amounts: ({ amount: string } | undefined)[]) =>
      summed(
        amounts.flatMap((each) => (each ? [each.amount] : [])),
        currency,
      );
    return {
      name: clipped(orderTitle(list), 32),
      total: list.total.amount,
      rounding: list.rounding.amount,
      parts: [
        sum(list.goods),
        sum(list.postage, list.handling),
        sum(list.tax, list.duty, list.importTax, list.clearance),
      ],
    };
  });
  const most = Math.max(
    ...rows.map(({ parts }) => parts.reduce((all, part) => all + Math.max(0, Number(part)), 0)),
    0.01,
  );
  const scale = (PICTURE_WIDTH - NAMES - FIGURES) / most;
  return {
    title: `What each order costs, ${currency}: goods, postage, tax`,
    width: PICTURE_WIDTH,
    height: LEGEND + rows.length * ROW,
    shapes: [...legend(), ...rows.flatMap((each, row) => bar(each, { top: LEGEND + row * ROW, scale }))],
  };
}

function legend(): Shape[] {
  let x = NAMES;
  return PARTS.flatMap(([name, hatch]) => {
    const own: Shape[] = [
      ...hatched({ x, y: 1, width: 14, height: 9 }, hatch),
      { is: 'words', x: x + 18, y: 8.5, words: name, size: SIZE, anchor: 'start' },
    ];
    x += 18 + about(name, SIZE) + 14;
    return own;
  });
}

interface Row {
  name: string;
  parts: readonly string[];
  total: string;
  rounding: string;
}

function bar({ name, parts, total, rounding }: Row, { top, scale }: { top: number; scale: number }): Shape[] {
  let x = NAMES;
  const boxes = parts.flatMap((amount, at) => {
    const width = Math.max(0, Number(amount)) * scale;
    const own = width <= 0 ? [] : hatched({ x, y: top + 2, width, height: BAR }, PARTS[at]?.[1] ?? 'plain');
    x += width;
    return own;
  });
  const y = top + 11;
  const terms = parts.filter((amount, at) => at === 0 || Number(amount) !== 0).join(' + ');
  const figures = `${terms}${roundingTerm(rounding)} = ${total}`;
  return [
    { is: 'words', x: 0, y, words: name, size: SIZE, anchor: 'start' },
    ...boxes,
    { is: 'words', x: x + 5, y, words: figures, size: SIZE, anchor: 'start' },
  ];
}

/** " − 0.03 rounding", so that the figures add up; of none nothing. */
function roundingTerm(amount: string): string {
  if (Number(amount) === 0) return '';
  return amount.startsWith('-') ? ` − ${amount.slice(1)} rounding` : ` + ${amount} rounding`;
}
