import type { BuildOrBuy } from '../../engine/model/buildOrBuy.ts';
import { hourLines } from '../pictures/hourLines.ts';
import type { Picture } from '../pictures/picture.ts';
import { costLines, LINE_NAMES, type CostLines } from './lines.ts';
import { hoursText } from './words.ts';

/** Cost against the worth of an hour, as the table beside it has it. Undefined where there are no two lines to draw. */
export function hourPicture(known: BuildOrBuy): Picture | undefined {
  const drawn = costLines(known);
  return (
    drawn &&
    hourLines({
      currency: drawn.currency,
      lines: drawn.lines.map(({ kind, minutes, points }) => ({
        name: `${LINE_NAMES[kind]}: ${points[0]?.totalText ?? ''} and ${hoursText(minutes)}`,
        points,
      })),
      marks: marksOf(drawn),
      crossing: drawn.crossing,
    })
  );
}

const SAID = { crossing: 'they meet at', yours: 'yours' } as const;

function marksOf({ worths, lines: [line] }: CostLines): { hourWorth: number; said: string }[] {
  return worths.flatMap(({ text, is }, at) =>
    is.flatMap((one) =>
      one === 'crossing' || one === 'yours'
        ? [{ hourWorth: line?.points[at]?.hourWorth ?? 0, said: `${SAID[one]} ${text}` }]
        : [],
    ),
  );
}
