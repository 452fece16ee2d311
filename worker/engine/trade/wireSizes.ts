import { sizeKey, sizeLabel, type Size } from '../model/size.ts';
import { areaMm2 } from './area.ts';

/** A size in which vehicle cable is sold: so many strands of 0.30 mm, and the area by which the trade calls it. */
interface TradeSize {
  strands: number;
  areaMm2: number;
}

/**
 * Metric vehicle cable and the imperial cable that each replaces: n/.012 is sold as n/0.30, whatever its area says
 * (44/.012 computes to 3.21 mm², and is replaced by 44/0.30, sold as 3 mm², not by 4 mm²).
 * 9 to 44 strands: rydertowing.co.uk, towbar wiring cable table. From 65 up: common practice, no source.
 */
const TRADE_SIZES: readonly TradeSize[] = [
  { strands: 9, areaMm2: 0.65 },
  { strands: 14, areaMm2: 1 },
  { strands: 21, areaMm2: 1.5 },
  { strands: 28, areaMm2: 2 },
  { strands: 35, areaMm2: 2.5 },
  { strands: 44, areaMm2: 3 },
  { strands: 65, areaMm2: 4.5 },
  { strands: 84, areaMm2: 6 },
  { strands: 97, areaMm2: 7 },
  { strands: 120, areaMm2: 8.5 },
];

const STRAND_MM = 0.3;
export const STRAND_INCH = 0.012;
/** A strand measured with a caliper: .012 inch is 0.305 mm, and a worn micrometer is a few hundredths out. */
const MEASURED_WITHIN_MM = 0.02;

/** The trade size that a mark is sold as; undefined where the table has none, and then the mark stands for itself. */
export function tradeSizeOf(size: Size): TradeSize | undefined {
  switch (size.system) {
    case 'mm2':
      return TRADE_SIZES.find(({ areaMm2 }) => areaMm2 === size.areaMm2);
    case 'metricStrands':
      return size.strandMm === STRAND_MM ? ofStrands(size.strands) : undefined;
    case 'imperialStrands':
      return size.strandInch === STRAND_INCH ? ofStrands(size.strands) : undefined;
    case 'measuredStrands':
      return Math.abs(size.strandMm - STRAND_MM) <= MEASURED_WITHIN_MM ? ofStrands(size.strands) : undefined;
    case 'awg':
    case 'sae':
      return undefined;
  }
}

function ofStrands(strands: number): TradeSize | undefined {
  return TRADE_SIZES.find((size) => size.strands === strands);
}

/** The area by which the trade calls a size, mm²; else that of its copper. Undefined where neither is known. */
export function tradeAreaMm2(size: Size): number | undefined {
  return tradeSizeOf(size)?.areaMm2 ?? areaMm2(size);
}

/** Copper of the trade size that a mark is sold as, mm²: of its strands, not of its name. */
export function tradeCopperMm2(size: Size): number | undefined {
  const trade = tradeSizeOf(size);
  return trade && areaMm2({ system: 'metricStrands', strands: trade.strands, strandMm: STRAND_MM });
}

/** A size as the trade calls it: "1 mm²" for 14/0.30 and 14/.012; else as it is marked. */
export function tradeLabel(size: Size): string {
  const trade = tradeSizeOf(size);
  return trade ? sizeLabel({ system: 'mm2', areaMm2: trade.areaMm2 }) : sizeLabel(size);
}

/** One key for all marks that are sold as the same cable: "1mm2" for 1 mm², 14/0.30 and 14/.012. */
export function tradeKey(size: Size): string {
  const trade = tradeSizeOf(size);
  return trade ? sizeKey({ system: 'mm2', areaMm2: trade.areaMm2 }) : sizeKey(size);
}

/** What a mark is sold as, where that is another mark: "14/.012 is sold as 14/0.30, called 1 mm²". */
export function tradeStep(size: Size): { text: string; areaMm2: number } | undefined {
  const trade = tradeSizeOf(size);
  if (!trade || size.system === 'mm2' || size.system === 'metricStrands') return undefined;
  const sold = sizeLabel({ system: 'metricStrands', strands: trade.strands, strandMm: STRAND_MM });
  return {
    text: `${sizeLabel(size)} is sold as ${sold}, called ${trade.areaMm2} mm²`,
    areaMm2: trade.areaMm2,
  };
}

/** Old marks that the table does not know: they are met by a part of the very same mark alone. */
export function hasNoEquivalent(size: Size): boolean {
  return (
    (size.system === 'imperialStrands' || size.system === 'measuredStrands') &&
    tradeSizeOf(size) === undefined
  );
}

/** The imperial sizes that the table knows, for a finding. */
export function knownImperialSizes(): string {
  return TRADE_SIZES.map(({ strands }) => `${strands}/.012`).join(', ');
}
