import type { Result } from '../../engine/model/result.ts';
import { hatched, PICTURE_WIDTH, type Picture, type Shape } from './picture.ts';

const HEIGHT = 150;
const FOOT = 26;
const HEAD = 14;
const SIZE = 8;
const WIDEST = 60;

/** What it costs to buy from at most one supplier, two, and so on, as columns to one scale with their figures. */
export function bySuppliersPicture({ beside, currency }: Result): Picture | undefined {
  const all = beside?.bySuppliers ?? [];
  if (all.length < 2) return undefined;
  const totals = all.map(({ total }) => Number(total.amount));
  const scale = (HEIGHT - FOOT - HEAD) / Math.max(...totals, 0.01);
  const pitch = Math.min(WIDEST * 1.6, PICTURE_WIDTH / all.length);
  const shapes = all.flatMap(({ atMost, total, unmet, proven }, at): Shape[] => {
    const height = Number(total.amount) * scale;
    const x = at * pitch + pitch * 0.15;
    const width = pitch * 0.7;
    const top = HEIGHT - FOOT - height;
    const middle = x + width / 2;
    const words = (said: string, y: number): Shape => ({
      is: 'words',
      x: middle,
      y,
      words: said,
      size: SIZE,
      anchor: 'middle',
    });
    return [
      ...hatched({ x, y: top, width, height }, at === all.length - 1 ? 'grey' : 'slant'),
      words(`${proven ? '' : 'about '}${total.amount}`, top - 3),
      words(`at most ${atMost}`, HEIGHT - FOOT + 10),
      ...(unmet > 0 ? [words(`${unmet} not sourced`, HEIGHT - FOOT + 20)] : []),
    ];
  });
  const base: Shape = {
    is: 'line',
    points: [
      [0, HEIGHT - FOOT],
      [all.length * pitch, HEIGHT - FOOT],
    ],
    line: 0.8,
  };
  return {
    title: `Total in ${currency} against the number of suppliers`,
    width: PICTURE_WIDTH,
    height: HEIGHT,
    shapes: [...shapes, base],
  };
}
