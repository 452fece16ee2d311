/** A round thing in its cross-section, mm. */
export interface Circle {
  x: number;
  y: number;
  r: number;
}

/** What floating point may leave sticking out, as a share of the radius. */
const HAIR = 1e-10;

/**
 * The least circle that encloses all of these; undefined of none. Exact but for floating point: at most three of them
 * touch it and hold it, and as long as one sticks out, the one that sticks out most is taken in among those that hold.
 */
export function leastEnclosing(circles: readonly Circle[]): Circle | undefined {
  const [first] = circles;
  if (!first) return undefined;
  let holding: Circle[] = [first];
  let around = first;
  // Each round the circle grows, so that no three hold it twice; the bound is a guard against floating point.
  for (let round = 0; round < 4 * circles.length + 40; round++) {
    const out = furthestOut(around, circles);
    if (out === undefined) return around;
    const next = heldBy(out, holding);
    if (!next || next.around.r <= around.r) return grownTo(around, circles);
    ({ around, holding } = next);
  }
  return grownTo(around, circles);
}

/** From middle to middle. Much quicker than Math.hypot, whose care for very large numbers is not needed. */
function between(a: Circle, b: Circle): number {
  const dx = a.x - b.x;
  const dy = a.y - b.y;
  return Math.sqrt(dx * dx + dy * dy);
}

function furthestOut(around: Circle, circles: readonly Circle[]): Circle | undefined {
  let most = HAIR * around.r;
  let found: Circle | undefined;
  for (const circle of circles) {
    const out = between(circle, around) + circle.r - around.r;
    if (out > most) {
      most = out;
      found = circle;
    }
  }
  return found;
}

/** Where floating point comes to no end: as wide as it must be about this middle. */
function grownTo(around: Circle, circles: readonly Circle[]): Circle {
  const r = circles.reduce((most, circle) => Math.max(most, between(circle, around) + circle.r), 0);
  return { ...around, r };
}

/** The least circle around these of which the newcomer is one that holds it, and at most two of the others. */
function heldBy(
  newcomer: Circle,
  others: readonly Circle[],
): { around: Circle; holding: Circle[] } | undefined {
  let best: { around: Circle; holding: Circle[] } | undefined;
  const offer = (around: Circle, holding: Circle[]) => {
    if (best && around.r >= best.around.r) return;
    if (furthestOut(around, others) === undefined && furthestOut(around, [newcomer]) === undefined)
      best = { around, holding };
  };
  offer(newcomer, [newcomer]);
  others.forEach((a, index) => {
    offer(aroundTwo(newcomer, a), [newcomer, a]);
    for (const b of others.slice(index + 1))
      for (const around of aroundThree(newcomer, a, b)) offer(around, [newcomer, a, b]);
  });
  return best;
}

/** The circle that two touch from within, its middle on their line; the wider of them where it holds the other. */
export function aroundTwo(a: Circle, b: Circle): Circle {
  const apart = between(a, b);
  if (apart + b.r <= a.r) return a;
  if (apart + a.r <= b.r) return b;
  const r = (apart + a.r + b.r) / 2;
  const along = (r - a.r) / apart;
  return { x: a.x + (b.x - a.x) * along, y: a.y + (b.y - a.y) * along, r };
}

type Vector = readonly [number, number, number];

const cross = ([a, b, c]: Vector, [d, e, f]: Vector): Vector => [b * f - c * e, c * d - a * f, a * e - b * d];

/**
 * The circles that three touch from within: Apollonius' problem. With the first as origin, p the middle and q = R − r
 * sought, |p|² = q², and each other circle gives a plane in (p, q); the planes' line is cut with that cone.
 */
function aroundThree(a: Circle, b: Circle, c: Circle): Circle[] {
  const planes = [b, c].map(({ x, y, r }) => {
    const [u, v, s] = [x - a.x, y - a.y, r - a.r];
    return { normal: [u, v, -s] as const, height: (u * u + v * v - s * s) / 2 };
  });
  const [m, n] = planes;
  if (!m || !n) return [];
  const line = cross(m.normal, n.normal);
  const size = line[0] ** 2 + line[1] ** 2 + line[2] ** 2;
  if (size === 0) return [];
  const [f, g] = [cross(n.normal, line), cross(line, m.normal)];
  const start = [0, 1, 2].map(
    (axis) => (m.height * (f[axis] ?? 0) + n.height * (g[axis] ?? 0)) / size,
  ) as unknown as Vector;
  const cone = (v: Vector, w: Vector) => v[0] * w[0] + v[1] * w[1] - v[2] * w[2];
  return roots(cone(line, line), 2 * cone(start, line), cone(start, start))
    .map((t) => ({
      x: a.x + start[0] + t * line[0],
      y: a.y + start[1] + t * line[1],
      r: a.r + start[2] + t * line[2],
    }))
    .filter(({ r }) => r >= Math.max(a.r, b.r, c.r));
}

/** Real roots of at² + bt + c, without the loss of digits where b is large. */
function roots(a: number, b: number, c: number): number[] {
  if (a === 0) return b === 0 ? [] : [-c / b];
  const root = Math.sqrt(Math.max(0, b * b - 4 * a * c));
  const q = -(b + (b < 0 ? -root : root)) / 2;
  return q === 0 ? [0] : [q / a, c / q];
}
