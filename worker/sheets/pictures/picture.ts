/** A point of a picture: across, then down from its upper edge. */
export type At = readonly [x: number, y: number];

/** What a picture is drawn of; it is all black, grey or white. */
export type Shape =
  | {
      is: 'box';
      x: number;
      y: number;
      width: number;
      height: number;
      /** How dark it is filled: 0 white, 1 black; left out: not at all. */
      dark?: number;
      /** How thick its outline is; 0: none. */
      line: number;
    }
  | { is: 'line'; points: readonly At[]; line: number; dashed?: boolean }
  | { is: 'dot'; x: number; y: number; radius: number; dark: number }
  | {
      is: 'words';
      x: number;
      /** The line on which they stand. */
      y: number;
      words: string;
      size: number;
      anchor: 'start' | 'middle' | 'end';
      bold?: boolean;
    };

/** A drawing in points of 1/72 inch, to be printed at its own size or smaller. */
export interface Picture {
  /** What it shows, for those who cannot see it. */
  title: string;
  width: number;
  height: number;
  shapes: readonly Shape[];
}

/** The width of a printed sheet between its margins, points: that of the narrower paper. */
export const PICTURE_WIDTH = 515;

/** About how wide words are, points: no font is measured here, so it is on the wide side. */
export function about(words: string, size: number): number {
  return words.length * size * 0.56;
}

/** Heights of words next to each other, moved so that none lies on another, nor lower than the lowest that is allowed. */
export function apart(heights: readonly number[], gap: number, lowest = Infinity): number[] {
  const order = heights.map((height, at) => ({ height, at })).sort((a, b) => a.height - b.height);
  const placed: number[] = [];
  let last = -Infinity;
  for (const { height, at } of order) {
    last = Math.max(height, last + gap);
    placed[at] = last;
  }
  let next = lowest;
  for (const { at } of order.reverse()) {
    placed[at] = Math.min(placed[at] ?? 0, next);
    next = (placed[at] ?? 0) - gap;
  }
  return placed;
}

/** How boxes are told apart without colour: by lines across them. */
export const HATCHES = ['plain', 'slant', 'grey', 'back', 'cross', 'upright', 'dark'] as const;
export type Hatch = (typeof HATCHES)[number];

interface Area {
  x: number;
  y: number;
  width: number;
  height: number;
}

const GAP = 4;
const THIN = 0.35;

/** A box with its hatch, as shapes. */
export function hatched(area: Area, hatch: Hatch, line = 0.6): Shape[] {
  const { x, y, width, height } = area;
  const lines = (points: readonly (readonly [At, At])[]): Shape[] =>
    points.map((each) => ({ is: 'line', points: each, line: THIN }));
  const dark = { grey: { dark: 0.22 }, dark: { dark: 0.55 } }[hatch as string];
  const upright = (): Shape[] => {
    const count = Math.max(0, Math.ceil(width / GAP) - 1);
    return lines(
      Array.from({ length: count }, (_, at) => {
        const across = x + (at + 1) * GAP;
        return [
          [across, y],
          [across, y + height],
        ] as const;
      }),
    );
  };
  const inside: Shape[] = {
    plain: [],
    grey: [],
    dark: [],
    slant: lines(slanted(area, false)),
    back: lines(slanted(area, true)),
    cross: lines([...slanted(area, false), ...slanted(area, true)]),
    upright: hatch === 'upright' ? upright() : [],
  }[hatch];
  return [{ is: 'box', x, y, width, height, line, ...dark }, ...inside];
}

/** Lines at 45° across a box, cut off at its edges. */
function slanted({ x, y, width, height }: Area, back: boolean): (readonly [At, At])[] {
  const all: (readonly [At, At])[] = [];
  for (let start = GAP; start < width + height; start += GAP) {
    const low = Math.max(0, start - height);
    const high = Math.min(width, start);
    if (high - low < 0.2) continue;
    const place = (across: number): At => [back ? x + width - across : x + across, y + (start - across)];
    all.push([place(low), place(high)]);
  }
  return all;
}
