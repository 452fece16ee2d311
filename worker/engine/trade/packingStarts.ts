import { aroundTwo, type Circle } from './enclosing.ts';

/** About what the corners are filled: the middle of the first circle, of the first two, or of the first three. */
export type SeedOf = 'one' | 'two' | 'three';

const GOLDEN = Math.PI * (3 - Math.sqrt(5));

/**
 * Circles in rings about the middle, as seeds stand in a sunflower. Each turn deals them out in another order: widest in
 * the middle, widest outside, or mixed.
 */
export function ringStart(radii: readonly number[], turn: number): Circle[] {
  const n = radii.length;
  const dealt = turn === 0 ? [...radii] : turn === 1 ? [...radii].reverse() : stepped(radii, turn);
  // How far in the spiral starts: some packings have a circle in the middle, some do not.
  const from = [0, 0.5, 1, 1.6][turn % 4] ?? 0;
  let area = from * (radii[0] ?? 0) ** 2;
  return dealt.map((r, index) => {
    const distance = Math.sqrt(area + (from === 0 && index === 0 ? 0 : (r * r) / 2));
    area += r * r;
    const angle = n <= 7 + turn ? (2 * Math.PI * index * (1 + (turn % 3))) / n : GOLDEN * index;
    return { x: distance * Math.cos(angle), y: distance * Math.sin(angle), r };
  });
}

/** Every so many-th, round and round: an order that mixes wide and thin, another one for each turn. */
function stepped(radii: readonly number[], turn: number): number[] {
  const left = [...radii];
  const dealt: number[] = [];
  for (let at = turn % left.length; left.length > 0; at = (at + turn) % left.length) {
    dealt.push(...left.splice(at, 1));
    if (left.length === 0) break;
  }
  return dealt;
}

/** Each circle, widest first, in the corner between two others that lies nearest to the middle. */
export function cornerStart(radii: readonly number[], seed: SeedOf): Circle[] {
  const [first = 0, second = 0, third = 0, ...rest] = radii;
  const a = { x: 0, y: 0, r: first };
  const b = { x: first + second, y: 0, r: second };
  if (radii.length < 2) return [a].slice(0, radii.length);
  if (radii.length < 3) return [a, b];
  const c = between(a, b, third)[0] ?? { x: -first - third, y: 0, r: third };
  const middle =
    seed === 'one' ? a : seed === 'two' ? aroundTwo(a, b) : { x: (a.x + b.x + c.x) / 3, y: c.y / 3 };
  const laid: Circle[] = [a, b, c];
  // Of wires of one size the corners are kept, and only what the last one made is looked at.
  let corners: Corner[] = [];
  let size = NaN;
  for (const r of rest) {
    const last = laid.at(-1) ?? a;
    corners =
      r === size
        ? [...corners.filter(({ circle }) => isFree(circle, last)), ...freeCorners([last], laid, r, middle)]
        : freeCorners(laid, laid, r, middle);
    size = r;
    let nearest: Corner | undefined;
    for (const corner of corners) if (!nearest || corner.far < nearest.far) nearest = corner;
    // There is always a free corner on the outside; the other is for floating point.
    laid.push(nearest?.circle ?? { x: laid.reduce((sum, circle) => sum + 2 * circle.r, r), y: 0, r });
  }
  return laid.map(({ x, y, r }) => ({ x: x - middle.x, y: y - middle.y, r }));
}

interface Corner {
  circle: Circle;
  /** Square of the distance from the middle. */
  far: number;
}

/** Where a circle of this radius touches one of some and one of all, and overlaps none. */
function freeCorners(
  some: readonly Circle[],
  all: readonly Circle[],
  r: number,
  middle: { x: number; y: number },
): Corner[] {
  const corners: Corner[] = [];
  some.forEach((a, index) => {
    // Each pair once, where some are all.
    for (const b of some === all ? all.slice(index + 1) : all) {
      const reach = a.r + b.r + 2 * r;
      if (a === b || (b.x - a.x) ** 2 + (b.y - a.y) ** 2 >= reach * reach) continue;
      for (const circle of between(a, b, r)) {
        if (!all.every((other) => isFree(circle, other))) continue;
        corners.push({ circle, far: (circle.x - middle.x) ** 2 + (circle.y - middle.y) ** 2 });
      }
    }
  });
  return corners;
}

function isFree(a: Circle, b: Circle): boolean {
  const sum = (a.r + b.r) * (1 - 1e-9);
  const dx = a.x - b.x;
  const dy = a.y - b.y;
  return dx * dx + dy * dy >= sum * sum;
}

/** Where a circle touches two others from outside: on either side of their line. */
function between(a: Circle, b: Circle, r: number): Circle[] {
  const dx = b.x - a.x;
  const dy = b.y - a.y;
  const apart = Math.hypot(dx, dy);
  const [p, q] = [a.r + r, b.r + r];
  if (apart === 0 || apart > p + q) return [];
  const along = (apart * apart + p * p - q * q) / (2 * apart);
  const aside = Math.sqrt(Math.max(0, p * p - along * along));
  return [1, -1].map((side) => ({
    x: a.x + (dx * along - side * dy * aside) / apart,
    y: a.y + (dy * along + side * dx * aside) / apart,
    r,
  }));
}
