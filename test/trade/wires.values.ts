import { areaMm2, awgDiameterMm, MM2_PER_CIRCULAR_MIL } from '../../worker/engine/trade/area.ts';
import { boatAmps, boatBundleShare } from '../../worker/engine/trade/boatCable.ts';
import { cableFigures } from '../../worker/engine/trade/cableFigures.ts';
import { tradeSizeOf } from '../../worker/engine/trade/wireSizes.ts';
import type { Size } from '../../worker/engine/model/size.ts';
import type { TradeValue } from './tradeValue.ts';

const mm2 = (area: number): Size => ({ system: 'mm2', areaMm2: area });
const awg = (gauge: string): Size => ({ system: 'awg', gauge });
const sae = (gauge: string): Size => ({ system: 'sae', gauge });
const metric = (strands: number, strandMm = 0.3): Size => ({ system: 'metricStrands', strands, strandMm });
const imperial = (strands: number, strandInch: number): Size => ({
  system: 'imperialStrands',
  strands,
  strandInch,
});

/** NaN, and so equal to nothing, where no figure is known. */
const milliohm = (type: string, size: Size) => cableFigures(type, size).milliohmPerM?.value ?? NaN;
const outside = (type: string, size: Size) => cableFigures(type, size).outsideDiameterMm?.value ?? NaN;
const amps = (type: string, size: Size) => cableFigures(type, size).ratedAmps?.value ?? NaN;
const hottest = (type: string) => cableFigures(type, mm2(1)).temperatureMaxC?.value ?? NaN;
const circularMils = (size: Size) => (areaMm2(size) ?? NaN) / MM2_PER_CIRCULAR_MIL;

/** What its rated amps lose over 5 m. */
const over5m = (size: Size) => (amps('pvc-vehicle', size) * milliohm('pvc-vehicle', size) * 5) / 1000;

/** Of 14 strands measured, the widest that are taken for 0.30 mm, in hundredths of a millimetre. */
function widestTakenFor30(): number {
  const taken = (strandMm: number) => tradeSizeOf({ system: 'measuredStrands', strands: 14, strandMm });
  let hundredths = 30;
  while (taken((hundredths + 0.01) / 100)) hundredths += 0.01;
  return hundredths;
}

const ASTM = 'ASTM B258, the formula of wire diameters (liquisearch.com, wikibacklink.com)';
const IEC_60028 = 'IEC 60028:1925, copper of 1/58 Ω·mm²/m (tnlab.org), over ASTM B258 diameters';
const IEC_60228 = 'IEC 60228 class 5, resistance at 20 °C (mycableengineering.com, uecables.com)';
const ISO_R = 'ISO 6722, table of thin-wall cable (a wire maker’s pages flrya, flryb)';
const ISO_THICK = 'ISO 6722, table of thick-wall cable (a wire maker’s page flyw)';
const SAE = 'SAE J1128, outside diameters (a wire maker’s pages)';
const SAE_MILS = 'SAE gauge in circular mils (genuinedealz.com; sportsmensmarine.com/archives/1034)';
const RYDER = 'Metric vehicle cable, drop over 5 m (rydertowing.co.uk, towbar wiring, cable table)';
const OLD = 'Half an amp a strand of .012 in (dugdalevms.com, data of the 1950s)';
const BOAT = 'Boat cable of 105 °C (cableyutai.com.tw, tech-02)';

export const VALUES: TradeValue[] = [
  // The formula's two anchors: 36 AWG is 0.005 in, 4/0 is 0.46 in.
  { source: ASTM, what: 'AWG 36, mm', got: () => awgDiameterMm('36'), expected: 0.127, within: 1e-6 },
  { source: ASTM, what: 'AWG 4/0, mm', got: () => awgDiameterMm('4/0'), expected: 11.684, within: 1e-3 },
  { source: ASTM, what: 'AWG 18, mm', got: () => awgDiameterMm('18'), expected: 1.0237, within: 1e-4 },
  { source: ASTM, what: 'AWG 12, mm', got: () => awgDiameterMm('12'), expected: 2.0525, within: 1e-4 },

  {
    source: IEC_60028,
    what: 'AWG 18, mΩ/m',
    got: () => milliohm('pvc', awg('18')),
    expected: 20.95,
    within: 0.01,
  },
  {
    source: IEC_60028,
    what: 'AWG 14, mΩ/m',
    got: () => milliohm('thin-wall', awg('14')),
    expected: 8.285,
    within: 0.005,
  },
  {
    source: IEC_60028,
    what: 'AWG 10, mΩ/m',
    got: () => milliohm('boat', awg('10')),
    expected: 3.277,
    within: 0.002,
  },
  {
    source: IEC_60028,
    what: 'AWG 4/0, mΩ/m',
    got: () => milliohm('pvc', awg('4/0')),
    expected: 0.1608,
    within: 1e-4,
  },

  {
    source: IEC_60228,
    what: '1.5 mm² plain',
    got: () => milliohm('class-5', mm2(1.5)),
    expected: 13.3,
  },
  { source: IEC_60228, what: '6 mm² plain', got: () => milliohm('class-5', mm2(6)), expected: 3.3 },
  {
    source: IEC_60228,
    what: '1.5 mm² tinned',
    got: () => milliohm('class-5-tinned', mm2(1.5)),
    expected: 13.7,
  },
  {
    source: IEC_60228,
    what: '16 mm² tinned',
    got: () => milliohm('class-5-tinned', mm2(16)),
    expected: 1.24,
  },

  { source: ISO_R, what: '1.5 mm², mΩ/m', got: () => milliohm('FLRY-B', mm2(1.5)), expected: 12.7 },
  {
    source: ISO_R,
    what: '1.0 mm² marked as 32 × 0.20 mm, mΩ/m',
    got: () => milliohm('FLRY-B', metric(32, 0.2)),
    expected: 18.5,
  },
  {
    source: ISO_R,
    what: '0.35 mm² type A, outside mm',
    got: () => outside('FLRY-A', mm2(0.35)),
    expected: 1.3,
  },
  { source: ISO_R, what: '1.0 mm², outside mm', got: () => outside('thin-wall', mm2(1)), expected: 2.1 },

  { source: ISO_THICK, what: '1.0 mm², outside mm', got: () => outside('FLYW', mm2(1)), expected: 2.7 },
  { source: ISO_THICK, what: '2.5 mm², outside mm', got: () => outside('FLY', mm2(2.5)), expected: 3.6 },
  { source: ISO_THICK, what: '10 mm², mΩ/m', got: () => milliohm('FLYW', mm2(10)), expected: 1.82 },
  {
    source: ISO_THICK,
    what: '70 mm², outside mm',
    got: () => outside('thick-wall', mm2(70)),
    expected: 15.5,
  },

  {
    source: 'Makers’ sheets of FLRY and FLRYW (type letters: caledonian-cables.com)',
    what: 'FLRY, °C',
    got: () => hottest('FLRY'),
    expected: 105,
  },
  {
    source: 'Makers’ sheets of FLRY and FLRYW (type letters: caledonian-cables.com)',
    what: 'FLRYW-B, °C',
    got: () => hottest('FLRYW-B'),
    expected: 125,
  },

  { source: SAE, what: 'GPT 16, mm', got: () => outside('GPT', sae('16')), expected: 2.9 },
  { source: SAE, what: 'TXL 20, mm', got: () => outside('TXL', sae('20')), expected: 1.9 },
  { source: SAE, what: 'TWP 10, mm', got: () => outside('twp', sae('10')), expected: 4 },
  { source: SAE, what: 'SXL 12, mm', got: () => outside('SXL', sae('12')), expected: 4.6 },

  { source: SAE_MILS, what: 'SAE 18', got: () => circularMils(sae('18')), expected: 1537, within: 0.5 },
  { source: SAE_MILS, what: 'SAE 14', got: () => circularMils(sae('14')), expected: 3702, within: 0.5 },
  { source: SAE_MILS, what: 'SAE 10', got: () => circularMils(sae('10')), expected: 9343, within: 0.5 },
  { source: SAE_MILS, what: 'SAE 2', got: () => circularMils(sae('2')), expected: 62450, within: 0.5 },

  { source: RYDER, what: '9/0.30, V', got: () => over5m(metric(9)), expected: 0.845, within: 6e-4 },
  { source: RYDER, what: '14/0.30 as 1 mm², V', got: () => over5m(mm2(1)), expected: 0.827, within: 6e-4 },
  {
    source: RYDER,
    what: '28/0.30 in place of 28/.012, V',
    got: () => over5m(imperial(28, 0.012)),
    expected: 0.823,
    within: 6e-4,
  },
  { source: RYDER, what: '44/0.30, V', got: () => over5m(metric(44)), expected: 0.765, within: 6e-4 },

  { source: OLD, what: '14/.012, A', got: () => amps('cotton-braided', imperial(14, 0.012)), expected: 7 },
  { source: OLD, what: '28/.012, A', got: () => amps('rubber', imperial(28, 0.012)), expected: 14 },
  { source: OLD, what: '44/.012, A', got: () => amps('vir', imperial(44, 0.012)), expected: 22 },

  { source: BOAT, what: 'AWG 18, A', got: () => boatAmps('18') ?? NaN, expected: 20 },
  { source: BOAT, what: 'AWG 10, A', got: () => amps('boat-cable', awg('10')), expected: 60 },
  { source: BOAT, what: 'share among 3 wires', got: () => boatBundleShare(3) ?? NaN, expected: 0.7 },
  { source: BOAT, what: 'share among 24 wires', got: () => boatBundleShare(24) ?? NaN, expected: 0.5 },

  {
    source: 'a worn strand of 0.30 mm, measured: common practice, no source',
    what: 'the widest that is taken for one, in hundredths of a mm',
    got: widestTakenFor30,
    expected: 32,
    within: 0.02,
  },

  {
    source: 'Geometry: n circles of the strand',
    what: '14/.012, mm²',
    got: () => areaMm2(imperial(14, 0.012)) ?? NaN,
    expected: 1.0215,
    within: 1e-4,
  },
  {
    source: 'Geometry: n circles of the strand',
    what: '61/.036, mm²',
    got: () => areaMm2(imperial(61, 0.036)) ?? NaN,
    expected: 40.1,
    within: 0.05,
  },
  {
    source: 'Geometry: n circles of the strand',
    what: '32 × 0.20 mm, mm²',
    got: () => areaMm2(metric(32, 0.2)) ?? NaN,
    expected: 1.0053,
    within: 1e-4,
  },
];
