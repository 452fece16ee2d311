import type { Ink } from './ink.ts';

/** Something that is drawn in one piece. */
export interface Unit {
  height: number;
  draw(top: number): void;
}

/** The pages of a sheet, filled from above. */
export interface Flow {
  ink: Ink;
  left: number;
  width: number;
  /** The height that one page has for its content. */
  pageHeight: number;
  /** Begins a page, where anything is drawn on the one at hand. */
  newPage(): void;
  /** Holds a unit back until the next comes, to stand on the same page as that: a heading. */
  hold(unit: Unit): void;
  /** Room that is left out where a page begins. */
  gap(height: number): void;
  /** Puts units on one page, if they fit on one; `again` stands first on every page that this begins. */
  put(units: readonly Unit[], again?: readonly Unit[]): void;
  /** Draws what is still held back. */
  finish(): void;
}

interface Area {
  left: number;
  top: number;
  width: number;
  bottom: number;
}

/** `start` begins a page and draws what stands on all of them. */
export function flowOf(ink: Ink, { left, top, width, bottom }: Area, start: () => void): Flow {
  const pageHeight = bottom - top;
  let held: Unit[] = [];
  let y = top;
  let fresh = true;

  function begin(): void {
    start();
    y = top;
    fresh = true;
  }

  function draw(unit: Unit): void {
    unit.draw(y);
    y += unit.height;
    fresh = false;
  }

  function put(units: readonly Unit[], again: readonly Unit[] = []): void {
    const all = [...held, ...units];
    held = [];
    const height = heightOf(all);
    if (y + height > bottom && !fresh) {
      begin();
      again.forEach(draw);
    }
    for (const unit of all) {
      // What is higher than a page by all its units is split between them.
      if (y + unit.height > bottom && !fresh) {
        begin();
        again.forEach(draw);
      }
      draw(unit);
    }
  }

  begin();
  return {
    ink,
    left,
    width,
    pageHeight,
    newPage: () => {
      // What is only held back, such as a title, stands on the page that it heads.
      if (!fresh) begin();
    },
    hold: (unit) => held.push(unit),
    gap: (height) => {
      if (held.length > 0) held.push({ height, draw: () => undefined });
      else if (!fresh) y = Math.min(bottom, y + height);
    },
    put,
    finish: () => put([]),
  };
}

export function heightOf(units: readonly Unit[]): number {
  return units.reduce((sum, { height }) => sum + height, 0);
}
