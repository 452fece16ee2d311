import { leastEnclosing } from './enclosing.ts';
import { packed } from './packing.ts';

/** A bundle of wires, as round as it can be laid. */
export interface Bundle {
  /** Diameter of the least circle found that holds them, mm. */
  packedMm: number;
  /** The greater of that and the trade's 1.2·√(Σd²), which is for two and more: what coverings are chosen by, mm. */
  diameterMm: number;
  /**
   * The same without the packing of more than three: what lengths of braid and tape are reckoned from, mm. A packing that
   * is found, not proven, may come out a hair thinner for a wire more; this never does.
   */
  steadyMm: number;
  how: 'exact' | 'packed' | 'estimate';
}

/** The rule of thumb for a bundle's diameter: 1.2·√(Σd²). Common practice, no source. */
const RULE = 1.2;
/** Up to so many circles are packed one by one. */
const MOST_PACKED = 60;
/** Above so many, a packing within the rule of thumb is enough: a tighter one would not be used. */
const WELL_PACKED = 20;
/**
 * Share of the circle that more than sixty wires fill. The best packings known of equal circles fill 0.80 at 60 and more
 * above (for 61: 1 + 1/sin(π/24) gives 0.81), those found here 0.74.
 */
const FILLED = 0.74;

/**
 * The bundle of round things of these outside diameters, mm, in whatever order; undefined of none. Exact for one, two and
 * three; a packing up to sixty; beyond that an estimate by area.
 */
export function bundleOf(diametersMm: readonly number[]): Bundle | undefined {
  if (diametersMm.length === 0) return undefined;
  const sorted = Float64Array.from(diametersMm).sort().reverse();
  return laid([...sorted]);
}

/** bundleOf that works each set of diameters once. */
export function bundles(): typeof bundleOf {
  const known = new Map<string, Bundle>();
  return (diametersMm) => {
    if (diametersMm.length === 0) return undefined;
    const sorted = [...Float64Array.from(diametersMm).sort().reverse()];
    if (sorted.length > MOST_PACKED) return laid(sorted);
    const key = sorted.join(' ');
    const bundle = known.get(key) ?? laid(sorted);
    known.set(key, bundle);
    return bundle;
  };
}

/** Widest first, at least one. */
function laid(sorted: readonly number[]): Bundle {
  const squares = sorted.reduce((sum, d) => sum + d * d, 0);
  const widest = ofThree(sorted.slice(0, 3));
  if (sorted.length === 1) return { packedMm: widest, diameterMm: widest, steadyMm: widest, how: 'exact' };
  const steadyMm = Math.max(widest, RULE * Math.sqrt(squares));
  const packedMm =
    sorted.length <= 3
      ? widest
      : sorted.length <= MOST_PACKED
        ? 2 *
          packed(
            sorted.map((d) => d / 2),
            sorted.length > WELL_PACKED ? steadyMm / 2 : 0,
          ).around.r
        : Math.max(widest, Math.sqrt(squares / FILLED));
  return {
    packedMm,
    diameterMm: Math.max(packedMm, steadyMm),
    steadyMm,
    how: sorted.length <= 3 ? 'exact' : sorted.length <= MOST_PACKED ? 'packed' : 'estimate',
  };
}

/**
 * Diameter of the least circle that holds up to three, widest first. Two lie beside each other; a third touches both, and
 * either the circle about the first two holds it already, or all three touch the circle.
 */
function ofThree([a = 0, b = 0, c = 0]: readonly number[]): number {
  if (c === 0) return a + b;
  const third = {
    x: ((a + b) * (a + b) + (a + c) * (a + c) - (b + c) * (b + c)) / (4 * (a + b)),
    y: 0,
    r: c / 2,
  };
  third.y = Math.sqrt(Math.max(0, (a + c) ** 2 / 4 - third.x ** 2));
  const touching = leastEnclosing([{ x: 0, y: 0, r: a / 2 }, { x: (a + b) / 2, y: 0, r: b / 2 }, third]);
  return touching ? 2 * touching.r : a + b;
}
