import { sizeLabel, type Size } from '../model/size.ts';
import { D, plain } from '../units/decimal.ts';
import { areaMm2 } from './area.ts';
import { tradeAreaMm2 } from './wireSizes.ts';

/**
 * Strands by which thin-wall cable is made, and the area by which it is called: ISO 6722, symmetric and asymmetric
 * conductors, as a wire maker's sheets restate them (nizing, FLRY-A and FLRY-B). What is called 1 mm² holds 1.005.
 */
const CALLED: Readonly<Record<string, number>> = {
  ...{ '7/0.16': 0.13, '7/0.20': 0.22, '7/0.26': 0.35, '12/0.20': 0.35, '19/0.19': 0.5, '16/0.20': 0.5 },
  ...{ '19/0.23': 0.75, '24/0.20': 0.75, '19/0.26': 1, '32/0.20': 1, '19/0.32': 1.5, '30/0.25': 1.5 },
  ...{ '19/0.36': 2, '30/0.30': 2, '19/0.41': 2.5, '50/0.25': 2.5, '56/0.30': 4, '84/0.30': 6 },
};

/**
 * The summed cross-section of the wires in one barrel, mm²: a terminal is chosen by it (TE 82561 p. 3: two wires in one
 * barrel by the sum of their circular areas). By the area that the trade calls a size by, since ranges of terminals are
 * stated in these: 14/.012 holds 1.02 mm² and goes in a terminal for up to 1 mm². A size that has none counts by its copper.
 * Undefined of no wires, and where the area of one of them is not known.
 */
export function barrelAreaMm2(sizes: readonly Size[]): number | undefined {
  const areas = sizes.flatMap((size) => calledMm2(size) ?? []);
  const [first, ...others] = areas;
  if (first === undefined || areas.length < sizes.length) return undefined;
  if (others.length === 0) return first;
  return others.reduce((sum, area) => sum.add(area), new D(first)).toNumber();
}

const MOST_TOLD = 6;

/** The sum in words: "28/.012, called 2 mm² + AWG 18, 0.823 mm² of copper = 2.823 mm²". */
export function barrelText(sizes: readonly Size[]): string {
  if (sizes.length < 2) return sizes.map(sizeText).join('');
  const terms = sizes.length > MOST_TOLD ? `${sizes.length} wires` : sizes.map(sizeText).join(' + ');
  return `${terms} = ${rounded(barrelAreaMm2(sizes) ?? 0)} mm²`;
}

function calledMm2(size: Size): number | undefined {
  return (size.system === 'metricStrands' ? CALLED[sizeLabel(size)] : undefined) ?? tradeAreaMm2(size);
}

function sizeText(size: Size): string {
  const called = calledMm2(size) ?? 0;
  if (size.system === 'mm2') return sizeLabel(size);
  return called === areaMm2(size)
    ? `${sizeLabel(size)}, ${rounded(called)} mm² of copper`
    : `${sizeLabel(size)}, called ${called} mm²`;
}

function rounded(area: number): string {
  return plain(new D(area).toDecimalPlaces(3));
}
