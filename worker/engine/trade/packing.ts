import { leastEnclosing, type Circle } from './enclosing.ts';
import { nearPairs, sweep } from './pressing.ts';
import { ringStart, cornerStart, type SeedOf } from './packingStarts.ts';

/** A packing of circles without overlaps, and the least circle around it. */
export interface Packing {
  circles: readonly Circle[];
  around: Circle;
}

/** Distances looked at for one packing: about a millisecond's worth. */
const EFFORT = 30_000;
/** Rounds in which a start is pressed together, each with so many sweeps over the circles that touch. */
const ROUNDS = 6;
const SWEEPS = 12;
/** A start that gains less than this share in so many rounds is given up. */
const GAIN = 0.001;
const IDLE = 3;
const MOST_STARTS = 5;

/**
 * Lays circles of these radii, widest first, into as small a circle as it finds: circles set one by one into the corners
 * between others, or on rings, then pressed together; the best of several starts. No lottery: the same radii are laid in
 * the same way every time.
 *
 * @param enough radius of a circle than which none tighter need be looked for
 */
export function packed(radii: readonly number[], enough = 0): Packing {
  let best: Packing | undefined;
  const keep = (circles: readonly Circle[]) => {
    const packing = apart(circles);
    if (!best || packing.around.r < best.around.r) best = packing;
    return packing;
  };
  for (const start of startsOf(radii)) {
    press(start, enough, keep);
    if (best && best.around.r <= enough) break;
  }
  if (!best) throw new Error('nothing to pack');
  return best;
}

function startsOf(radii: readonly number[]): Circle[][] {
  const n = radii.length;
  const starts = Math.min(
    MOST_STARTS,
    Math.max(1, Math.round(EFFORT / (ROUNDS * SWEEPS * n * 4 + 3 * n * n))),
  );
  const seeds: SeedOf[] = ['one', 'two', 'three'];
  const corners = seeds.slice(0, n > 30 ? 1 : 3).map((seed) => cornerStart(radii, seed));
  const rings = Array.from({ length: Math.max(0, starts - corners.length) }, (_, index) =>
    ringStart(radii, index),
  );
  return [...corners, ...rings];
}

/** Presses a start into ever tighter circles and offers what comes of it. */
function press(
  start: readonly Circle[],
  enough: number,
  keep: (circles: readonly Circle[]) => Packing,
): void {
  let loose = keep(start).around;
  const circles = start.map((circle) => ({ ...circle, x: circle.x - loose.x, y: circle.y - loose.y }));
  const area = circles.reduce((sum, { r }) => sum + r * r, 0);
  // Denser than any packing of few circles, so that the first rounds press hard.
  let within = Math.max(Math.sqrt(area / 0.86), loose.r * 0.8);
  let least = loose.r;
  for (let round = 0, idle = 0; round < ROUNDS && idle < IDLE && least > enough; round++) {
    sweep(circles, within, SWEEPS);
    loose = keep(circles).around;
    idle = loose.r < least * (1 - GAIN) ? 0 : idle + 1;
    least = Math.min(least, loose.r);
    within = loose.r <= within ? loose.r * 0.98 : (within + loose.r) / 2;
  }
}

/** The circles spread from the origin as far as it takes for none to overlap, with the least circle around them. */
function apart(circles: readonly Circle[]): Packing {
  let spread = 1;
  for (const { a, b, sum } of nearPairs(circles, 1)) {
    const [first, second] = [circles[a], circles[b]];
    if (!first || !second) continue;
    const distance = Math.sqrt((second.x - first.x) ** 2 + (second.y - first.y) ** 2);
    // A hair more, so that floating point leaves none overlapping.
    if (distance * spread < sum) spread = ((1 + 1e-12) * sum) / distance;
  }
  const laid = circles.map(({ x, y, r }) => ({ x: x * spread, y: y * spread, r }));
  return { circles: laid, around: leastEnclosing(laid) ?? { x: 0, y: 0, r: Infinity } };
}
