import type { Size } from '../model/size.ts';

const MM_PER_INCH = 25.4;

/** SAE gauge in circular mils: not AWG, a few percent less copper. SAE J1128's nominal areas as genuinedealz.com restates them. */
const SAE_CIRCULAR_MILS: Readonly<Record<string, number>> = {
  '18': 1537,
  '16': 2336,
  '14': 3702,
  '12': 5833,
  '10': 9343,
  '8': 14810,
  '6': 24538,
  '4': 37360,
  '2': 62450,
};

/** Diameter of solid AWG wire, mm: 0.005 in × 92^((36 − n)/39), m/0 being n = 1 − m (ASTM B258). */
export function awgDiameterMm(gauge: string): number {
  const noughts = /^(\d)\/0$/.exec(gauge);
  const n = noughts ? 1 - Number(noughts[1]) : Number(gauge);
  return 0.005 * MM_PER_INCH * 92 ** ((36 - n) / 39);
}

/** Area of one circular mil, mm²: of a circle of a thousandth of an inch. */
export const MM2_PER_CIRCULAR_MIL = circleMm2(MM_PER_INCH / 1000);

function circleMm2(diameterMm: number): number {
  return (Math.PI / 4) * diameterMm ** 2;
}

/**
 * Copper area of a size, mm²: as stated; by its strands; of AWG and SAE gauge by their standards. Undefined for an SAE
 * gauge that the table does not have.
 */
export function areaMm2(size: Size): number | undefined {
  switch (size.system) {
    case 'mm2':
      return size.areaMm2;
    case 'awg':
      return circleMm2(awgDiameterMm(size.gauge));
    case 'sae': {
      const mils = SAE_CIRCULAR_MILS[size.gauge];
      return mils === undefined ? undefined : mils * MM2_PER_CIRCULAR_MIL;
    }
    case 'imperialStrands':
      return size.strands * circleMm2(size.strandInch * MM_PER_INCH);
    case 'metricStrands':
    case 'measuredStrands':
      return size.strands * circleMm2(size.strandMm);
  }
}
