import { metres } from '../../engine/units/length.ts';
import type { BenchLength } from '../bench/lengths.ts';
import { about, hatched, PICTURE_WIDTH, type Hatch, type Picture, type Shape } from './picture.ts';

const BAR = 13;
const ROW = 31;
const ON_A_PICTURE = 20;
const SMALL = 7;
const SIDES: readonly Hatch[] = ['plain', 'grey'];

/**
 * A bar for each bought length, divided into its pieces, with the offcut hatched. Each bar is one whole length, whatever its
 * metres. Names of pieces stand in the bar where they fit; the cutting sheet has all.
 */
export function lengthBars(lengths: readonly BenchLength[]): Picture[] {
  const bars = lengths.filter(
    ({ number, pieces, offcut }) => number !== undefined && pieces.length > 0 && offcut,
  );
  const pictures: Picture[] = [];
  for (let from = 0; from < bars.length; from += ON_A_PICTURE) {
    const own = bars.slice(from, from + ON_A_PICTURE);
    pictures.push({
      title: `Bought lengths ${own[0]?.number ?? ''} to ${own.at(-1)?.number ?? ''} with their pieces`,
      width: PICTURE_WIDTH,
      height: own.length * ROW,
      shapes: own.flatMap((length, row) => bar(length, row * ROW)),
    });
  }
  return pictures;
}

function bar({ number, from, pieces, offcut }: BenchLength, top: number): Shape[] {
  const left = offcut?.mm ?? 0;
  const whole = pieces.reduce((sum, { cutMm }) => sum + cutMm, left);
  if (whole === 0) return [];
  const scale = PICTURE_WIDTH / whole;
  const y = top + 10;
  const cut = pieces.flatMap(({ piece, cutMm, place }, at): Shape[] => {
    const x = (place?.fromMm ?? 0) * scale;
    const width = cutMm * scale;
    const area = { x, y, width, height: BAR };
    const name = [`${piece} ${cutMm}`, piece].find((words) => about(words, SMALL) + 4 <= width);
    return [
      ...hatched(area, SIDES[at % 2] ?? 'plain'),
      ...(name === undefined ? [] : [words(name, x + width / 2, y + 9, 'middle')]),
    ];
  });
  const rest = { x: (whole - left) * scale, y, width: left * scale, height: BAR };
  const figures = `${pieces.length} ${pieces.length === 1 ? 'piece' : 'pieces'}, offcut ${metres(left)}`;
  const head = `${number ?? ''}. ${from}`;
  const room = PICTURE_WIDTH - about(figures, SMALL) - 8;
  const most = Math.floor(room / about('x', SMALL));
  return [
    words(head.length <= most ? head : `${head.slice(0, most - 1)}…`, 0, y - 2.5, 'start'),
    words(figures, PICTURE_WIDTH, y - 2.5, 'end'),
    ...cut,
    ...(left > 0 ? hatched(rest, 'cross') : []),
  ];
}

function words(said: string, x: number, y: number, anchor: 'start' | 'middle' | 'end'): Shape {
  return { is: 'words', x, y, words: said, size: SMALL, anchor };
}
