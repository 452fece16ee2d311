import type { Circle } from './enclosing.ts';

/** Two circles that touch or may come to, by their places in the list, and the sum of their radii. */
interface Pair {
  a: number;
  b: number;
  sum: number;
}

/** Pairs further apart than this, as a share of the sum of their radii, do not meet within one pressing. */
const REACH = 1.35;

/**
 * Pushes apart what overlaps, half each, and back what sticks out of a circle about the origin; so many times. Moves the
 * circles in place.
 */
export function sweep(circles: readonly Circle[], within: number, times: number): void {
  const pairs = nearPairs(circles, REACH);
  const x = Float64Array.from(circles, (circle) => circle.x);
  const y = Float64Array.from(circles, (circle) => circle.y);
  const room = Float64Array.from(circles, ({ r }) => Math.max(0, within - r));
  for (let turn = 0; turn < times; turn++) {
    for (const { a, b, sum } of pairs) {
      const dx = (x[b] ?? 0) - (x[a] ?? 0);
      const dy = (y[b] ?? 0) - (y[a] ?? 0);
      const square = dx * dx + dy * dy;
      if (square >= sum * sum || square === 0) continue;
      const push = sum / Math.sqrt(square) / 2 - 0.5;
      x[a] = (x[a] ?? 0) - dx * push;
      y[a] = (y[a] ?? 0) - dy * push;
      x[b] = (x[b] ?? 0) + dx * push;
      y[b] = (y[b] ?? 0) + dy * push;
    }
    for (let i = 0; i < room.length; i++) {
      const [atX, atY, most] = [x[i] ?? 0, y[i] ?? 0, room[i] ?? 0];
      const square = atX * atX + atY * atY;
      if (square <= most * most) continue;
      const shrink = most / Math.sqrt(square);
      x[i] = atX * shrink;
      y[i] = atY * shrink;
    }
  }
  circles.forEach((circle, index) => {
    circle.x = x[index] ?? 0;
    circle.y = y[index] ?? 0;
  });
}

/** The pairs whose middles are nearer than so many times the sum of their radii. */
export function nearPairs(circles: readonly Circle[], reach: number): Pair[] {
  const pairs: Pair[] = [];
  circles.forEach((first, a) => {
    for (let b = a + 1; b < circles.length; b++) {
      const second = circles[b];
      if (!second) continue;
      const sum = first.r + second.r;
      const most = reach * sum;
      const dx = second.x - first.x;
      const dy = second.y - first.y;
      if (dx * dx + dy * dy < most * most) pairs.push({ a, b, sum });
    }
  });
  return pairs;
}
