import { PICTURE_WIDTH, type At, type Picture, type Shape } from './picture.ts';

/** A way to get the looms: what is paid, and how long it takes. */
export interface HourLine {
  name: string;
  /** An amount in the currency of all. */
  cost: string;
  minutes: number;
}

interface Asked {
  /** At most three are told apart by how they are drawn. */
  lines: readonly HourLine[];
  currency: string;
  /** The worth of an hour that is counted with. */
  hourWorth: string;
  /** The worth at which the first two come to the same, where there is one. */
  meetAt?: string;
}

const LEFT = 44;
const RIGHT = 170;
const TOP = 12;
const HEIGHT = 190;
const FOOT = 30;
const SIZE = 8;

/** Cost against the worth of an hour: a straight line for each way, with where the first two cross. */
export function hourLines({ lines, currency, hourWorth, meetAt }: Asked): Picture {
  const widest = Math.max(Number(hourWorth) * 2, Number(meetAt ?? 0) * 1.4, 1);
  const most = Math.max(...lines.map((line) => costAt(line, widest)), 0.01);
  const across = (worth: number) => LEFT + (worth / widest) * (PICTURE_WIDTH - LEFT - RIGHT);
  const down = (cost: number) => TOP + (1 - cost / most) * (HEIGHT - TOP - FOOT);
  const foot = down(0);
  const words = (said: string, [x, y]: At, anchor: 'start' | 'middle' | 'end' = 'start'): Shape => ({
    is: 'words',
    x,
    y,
    words: said,
    size: SIZE,
    anchor,
  });
  const mark = (worth: number, said: string, row: number): Shape[] => [
    {
      is: 'line',
      points: [
        [across(worth), foot],
        [across(worth), TOP],
      ],
      line: 0.4,
      dashed: true,
    },
    words(said, [across(worth), foot + 10 + row * 10], 'middle'),
  ];
  const ends = apart(lines.map((line) => down(costAt(line, widest))));
  const crossing = meetAt === undefined || !lines[0] ? undefined : Number(meetAt);
  return {
    title: `Cost in ${currency} against the worth of an hour`,
    width: PICTURE_WIDTH,
    height: HEIGHT,
    shapes: [
      {
        is: 'line',
        points: [
          [LEFT, TOP],
          [LEFT, foot],
          [across(widest), foot],
        ],
        line: 0.8,
      },
      words(currency, [LEFT - 4, TOP + 3], 'end'),
      words('0', [LEFT - 4, foot + 3], 'end'),
      words(`an hour’s worth, ${currency}`, [across(widest) + 6, foot + 3]),
      ...lines.flatMap((line, at): Shape[] => [
        {
          is: 'line',
          points: [
            [LEFT, down(costAt(line, 0))],
            [across(widest), down(costAt(line, widest))],
          ],
          line: [1.8, 0.7, 1][at] ?? 0.7,
          ...(at === 2 ? { dashed: true } : {}),
        },
        words(`${line.name}: ${line.cost} and ${hours(line.minutes)} h`, [
          across(widest) + 6,
          (ends[at] ?? 0) + 3,
        ]),
      ]),
      ...mark(Number(hourWorth), `yours ${hourWorth}`, 0),
      ...(crossing === undefined || !lines[0]
        ? []
        : [
            ...mark(crossing, `they meet at ${meetAt ?? ''}`, 1),
            {
              is: 'dot',
              x: across(crossing),
              y: down(costAt(lines[0], crossing)),
              radius: 3,
              dark: 0,
            } as const,
          ]),
    ],
  };
}

const costAt = ({ cost, minutes }: HourLine, worth: number) => Number(cost) + (worth * minutes) / 60;

const hours = (minutes: number) => `${Math.round(minutes / 6) / 10}`;

/** Heights of words beside each other, moved so that none lies on another. */
function apart(heights: readonly number[]): number[] {
  const order = heights.map((height, at) => ({ height, at })).sort((a, b) => a.height - b.height);
  let last = -Infinity;
  const placed: number[] = [];
  for (const { height, at } of order) {
    last = Math.max(height, last + SIZE + 2);
    placed[at] = last;
  }
  return placed;
}
