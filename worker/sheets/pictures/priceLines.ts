import {
  courseLines,
  type CourseLines,
  type CourseStep,
  type PriceCourse,
} from '../../engine/model/priceCourse.ts';
import { dayNumber, plusDays } from '../../engine/units/day.ts';
import { clipped } from '../names.ts';
import { about, apart, type At, type Picture, type Shape } from './picture.ts';
import { svgFile } from './svg.ts';

const WIDTH = 700;
const LEFT = 62;
const RIGHT = 40;
const HEAD = 34;
const PLOT = 170;
const FOOT = 26;
const ROW = 12;
const SIZE = 8;
const BETWEEN = 16;
/** So many lines can be told apart; the legend says how many more there are. */
const MOST_LINES = 10;
/** A supplier's name in the legend is cut off after so many characters, so that its price is not. */
const LONGEST_NAME = 40;
/** How the dots of lines that follow each other are filled. */
const DOTS = [1, 0, 0.45] as const;

/** The price course of a part as an SVG file: a panel for each unit and currency, in each a step line for each offer. */
export function priceCourseSvg(course: PriceCourse): string {
  const title = `Prices of ${course.part}: ${course.description}`;
  const panels = courseLines(course).map(drawnLines);
  const shapes: Shape[] = [words(clippedTo(title, WIDTH, 11), [0, 12], { size: 11, bold: true })];
  let top = 24;
  if (panels.length === 0) {
    shapes.push(words('No prices are kept of this part.', [0, top + 10]));
    top += 20;
  }
  for (const panel of panels) {
    const { height, shapes: own } = panelShapes(panel, course.today, top);
    shapes.push(...own);
    top += height + BETWEEN;
  }
  for (const { todo } of course.withoutRate)
    for (const line of wrapped(todo, WIDTH)) {
      shapes.push(words(line, [0, top]));
      top += ROW;
    }
  const picture: Picture = { title, width: WIDTH, height: top, shapes };
  return svgFile(picture, described(course, panels));
}

interface Panel extends Pick<CourseLines, 'unit' | 'currency'> {
  lines: CourseLines['lines'];
  more: number;
}

/** The lines that are drawn: offers that are still there before others, then the cheapest. */
function drawnLines({ unit, currency, lines }: CourseLines): Panel {
  const last = ({ steps }: CourseLines['lines'][number]) => steps.at(-1);
  const rank = (line: CourseLines['lines'][number]) => (last(line)?.until === undefined ? 0 : 1);
  const sorted = [...lines].sort(
    (a, b) => rank(a) - rank(b) || Number(last(a)?.amount) - Number(last(b)?.amount),
  );
  return { unit, currency, lines: sorted.slice(0, MOST_LINES), more: sorted.length - MOST_LINES };
}

const titleOf = ({ unit, currency }: Pick<Panel, 'unit' | 'currency'>) => `Price of one ${unit}, ${currency}`;

function panelShapes(panel: Panel, today: string, top: number): { height: number; shapes: Shape[] } {
  const steps = panel.lines.flatMap((line) => line.steps);
  const amounts = steps.map(({ amount }) => Number(amount));
  const [low, high, step] = scaleOf(Math.min(...amounts), Math.max(...amounts));
  const days = [today, ...steps.flatMap(({ from, lastSeen }) => [from, lastSeen])].map(dayNumber);
  const firstDay = Math.min(...days);
  const span = Math.max(1, Math.max(...days) - firstDay);
  const plot = { top: top + HEAD, bottom: top + HEAD + PLOT, right: WIDTH - RIGHT };
  const across = (day: string) => LEFT + ((dayNumber(day) - firstDay) / span) * (plot.right - LEFT);
  const down = (amount: number) => plot.bottom - ((amount - low) / (high - low)) * PLOT;
  const place = { across, down, end: firstDay + span, today };
  const drawn = panel.lines.map((line, at) => lineShapes(line.steps, DOTS[at % DOTS.length] ?? 1, place));
  const numbers = apart(
    drawn.map(({ end }) => end[1]),
    SIZE + 2,
    plot.bottom + 2,
  );
  const firstSteps = panel.lines.flatMap((line) => line.steps.map(({ from }) => from)).sort();
  const legend = panel.lines.map(({ offer, steps: own }, at) => {
    const last = own.at(-1);
    const now = last
      ? `${last.amount} from ${last.from}${last.until === undefined ? '' : ` until ${last.until}`}`
      : '';
    return `${at + 1}  ${clipped(offer.supplierName, LONGEST_NAME)}, ${offer.offer}: ${now}`;
  });
  if (panel.more > 0)
    legend.push(
      `${panel.more} more ${panel.more === 1 ? 'offer is' : 'offers are'} not drawn. The CSV has all.`,
    );
  return {
    height: HEAD + PLOT + FOOT + legend.length * ROW,
    shapes: [
      words(titleOf(panel), [0, top + 14], { size: 9.5, bold: true }),
      words('Dashed: not seen since.', [plot.right, top + 14], { anchor: 'end' }),
      ...gridShapes({ low, high, step }, down, plot.right),
      ...dayShapes(firstSteps[0] ?? today, span, across, plot),
      ...drawn.flatMap(({ shapes, end }, at): Shape[] => [
        ...shapes,
        line([end, [plot.right + 10, numbers[at] ?? end[1]]], 0.3),
        words(`${at + 1}`, [plot.right + 13, (numbers[at] ?? 0) + 3], { bold: true }),
      ]),
      ...legend.map((said, at) =>
        words(clippedTo(said, WIDTH - LEFT, SIZE), [LEFT, plot.bottom + FOOT + at * ROW + 8]),
      ),
    ],
  };
}

interface Placing {
  across: (day: string) => number;
  down: (amount: number) => number;
  /** The number of the last day that is drawn. */
  end: number;
  today: string;
}

/** A step line: whole while the price was seen, dashed from then on, with a dot where it began. */
function lineShapes(
  steps: readonly CourseStep[],
  dark: number,
  { across, down, today }: Placing,
): { shapes: Shape[]; end: At } {
  const shapes: Shape[] = [];
  let end: At = [LEFT, 0];
  for (const [at, { from, until, lastSeen, amount }] of steps.entries()) {
    const y = down(Number(amount));
    const stop = until ?? (today < lastSeen ? lastSeen : today);
    const seen = lastSeen < from ? from : lastSeen < stop ? lastSeen : stop;
    if (seen > from)
      shapes.push(
        line(
          [
            [across(from), y],
            [across(seen), y],
          ],
          1.2,
        ),
      );
    if (stop > seen)
      shapes.push(
        line(
          [
            [across(seen), y],
            [across(stop), y],
          ],
          0.9,
          true,
        ),
      );
    const next = steps[at + 1];
    end = [across(stop < from ? from : stop), y];
    if (next && next.from === until) shapes.push(line([end, [end[0], down(Number(next.amount))]], 0.5));
  }
  const dots = steps.map(({ from, amount }): Shape => ({
    is: 'dot',
    x: across(from),
    y: down(Number(amount)),
    radius: 2.2,
    dark,
  }));
  return { shapes: [...shapes, ...dots], end };
}

function gridShapes(
  { low, high, step }: { low: number; high: number; step: number },
  down: (amount: number) => number,
  right: number,
): Shape[] {
  const decimals = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  const count = Math.round((high - low) / step);
  return Array.from({ length: count + 1 }, (_, at) => low + at * step).flatMap((amount, at): Shape[] => [
    line(
      [
        [LEFT, down(amount)],
        [right, down(amount)],
      ],
      at === 0 ? 0.8 : 0.2,
    ),
    words(amount.toFixed(decimals), [LEFT - 5, down(amount) + 3], { anchor: 'end' }),
  ]);
}

const MOST_DAYS = 6;

function dayShapes(
  first: string,
  span: number,
  across: (day: string) => number,
  { top, bottom }: { top: number; bottom: number },
): Shape[] {
  const count = Math.min(MOST_DAYS - 1, span);
  const days = Array.from({ length: count + 1 }, (_, at) => plusDays(first, Math.round((at * span) / count)));
  return [
    line(
      [
        [LEFT, top],
        [LEFT, bottom],
      ],
      0.8,
    ),
    ...days.flatMap((day): Shape[] => [
      line(
        [
          [across(day), bottom],
          [across(day), bottom + 3],
        ],
        0.6,
      ),
      words(day, [across(day), bottom + 14], { anchor: 'middle' }),
    ]),
  ];
}

/** A lower and an upper end in round figures, and the step between the lines that are drawn. */
function scaleOf(least: number, most: number): [low: number, high: number, step: number] {
  const range = most - least || most || 1;
  const power = 10 ** Math.floor(Math.log10(range / 4));
  const step = power * ([1, 2, 5, 10].find((each) => range / (power * each) <= 5) ?? 10);
  const low = Math.max(0, Math.floor(least / step - 0.2) * step);
  const high = Math.ceil(most / step + 0.2) * step;
  return [low, high, step];
}

const line = (points: readonly At[], thick: number, dashed = false): Shape => ({
  is: 'line',
  points,
  line: thick,
  dashed,
});

interface Look {
  size?: number;
  bold?: boolean;
  anchor?: 'start' | 'middle' | 'end';
}

const words = (
  said: string,
  [x, y]: At,
  { size = SIZE, bold = false, anchor = 'start' }: Look = {},
): Shape => ({
  is: 'words',
  x,
  y,
  words: said,
  size,
  bold,
  anchor,
});

const clippedTo = (text: string, room: number, size: number) =>
  clipped(text, Math.floor(room / about('x', size)));

function wrapped(text: string, room: number): string[] {
  const most = Math.floor(room / about('x', SIZE));
  const lines: string[] = [];
  for (const word of text.split(' ')) {
    const last = lines.at(-1);
    if (last !== undefined && last.length + 1 + word.length <= most)
      lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word);
  }
  return lines;
}

/** All that the picture shows, in words. */
function described({ part, today }: PriceCourse, panels: readonly Panel[]): string {
  if (panels.length === 0) return `No prices are kept of ${part}.`;
  return panels
    .flatMap((panel) => [
      `${titleOf(panel)}, up to ${today}.`,
      ...panel.lines.map(({ offer, steps }, at) => {
        const said = steps.map(
          ({ from, until, amount }, index) =>
            `${amount} from ${from}${until === undefined || steps[index + 1]?.from === until ? '' : ` until ${until}`}`,
        );
        return `${at + 1}: ${offer.supplierName}, offer ${offer.offer}: ${said.join(', ')}.`;
      }),
    ])
    .join(' ');
}
