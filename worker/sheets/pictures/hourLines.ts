import { apart, PICTURE_WIDTH, type At, type Picture, type Shape } from './picture.ts';

/** A place on the picture, in whole units of the currency. */
interface Place {
  hourWorth: number;
  total: number;
}

interface Asked {
  currency: string;
  /** At most three are told apart by how they are drawn. Each is straight, from the worth 0 to the most that is drawn. */
  lines: readonly { name: string; points: readonly Place[] }[];
  /** Worths of an hour that are marked at the foot, with what is said of them. */
  marks: readonly { hourWorth: number; said: string }[];
  /** Where the first two lines come to the same. */
  crossing?: Place | undefined;
}

const LEFT = 44;
const RIGHT = 170;
const TOP = 12;
const HEIGHT = 190;
const FOOT = 30;
const SIZE = 8;

/** Cost against the worth of an hour: a straight line for each way, with where the first two cross. */
export function hourLines({ currency, lines, marks, crossing }: Asked): Picture {
  const all = lines.flatMap(({ points }) => points);
  const widest = Math.max(...all.map(({ hourWorth }) => hourWorth), 0.01);
  const most = Math.max(...all.map(({ total }) => total), 0.01);
  const placed = ({ hourWorth, total }: Place): At => [
    LEFT + (hourWorth / widest) * (PICTURE_WIDTH - LEFT - RIGHT),
    TOP + (1 - total / most) * (HEIGHT - TOP - FOOT),
  ];
  const across = (hourWorth: number) => placed({ hourWorth, total: 0 })[0];
  const [right, foot] = placed({ hourWorth: widest, total: 0 });
  const words = (said: string, [x, y]: At, anchor: 'start' | 'middle' | 'end' = 'start'): Shape => ({
    is: 'words',
    x,
    y,
    words: said,
    size: SIZE,
    anchor,
  });
  const drawn = lines.map(({ name, points }) => ({ name, points: points.map(placed) }));
  const names = apart(
    drawn.map(({ points }) => points.at(-1)?.[1] ?? foot),
    SIZE + 2,
  );
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
          [right, foot],
        ],
        line: 0.8,
      },
      words(currency, [LEFT - 4, TOP + 3], 'end'),
      words('0', [LEFT - 4, foot + 3], 'end'),
      words(`an hour’s worth, ${currency}`, [right + 6, foot + 3]),
      ...drawn.flatMap(({ name, points }, at): Shape[] => [
        {
          is: 'line',
          points,
          line: [1.8, 0.7, 1][at] ?? 0.7,
          ...(at === 2 ? { dashed: true } : {}),
        },
        words(name, [right + 6, (names[at] ?? 0) + 3]),
      ]),
      ...marks.flatMap(({ hourWorth, said }, row): Shape[] => [
        {
          is: 'line',
          points: [
            [across(hourWorth), foot],
            [across(hourWorth), TOP],
          ],
          line: 0.4,
          dashed: true,
        },
        words(said, [across(hourWorth), foot + 10 + row * 10], 'middle'),
      ]),
      ...(crossing ? [dotAt(placed(crossing))] : []),
    ],
  };
}

const dotAt = ([x, y]: At): Shape => ({ is: 'dot', x, y, radius: 3, dark: 0 });
