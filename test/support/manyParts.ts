import type { Offer } from '../../worker/engine/model/offer.ts';
import { Part } from '../../worker/engine/model/part.ts';
import { SHADES } from '../../worker/engine/model/short/shades.ts';
import { randomBelow } from './randomBelow.ts';

const WORDS =
  'lamp head tail side brake horn pump relay dash panel loom engine bay rear front left right upper lower earth feed switch column stalk heater fan wiper motor sender gauge fuel oil door boot bonnet roof seat coil dynamo starter battery main branch socket plug brass tinned heavy light small large long short round flat sealed open'.split(
    ' ',
  );
const MAKERS = ['Wrenfield', 'Osterby', 'Marram', 'Tarnside', 'Alder', 'Quillon', 'Fenwater', 'Holmgate'];
const SIZES = [
  { system: 'metricStrands', strands: 14, strandMm: 0.3 },
  { system: 'metricStrands', strands: 28, strandMm: 0.3 },
  { system: 'metricStrands', strands: 44, strandMm: 0.3 },
  { system: 'mm2', areaMm2: 1.5 },
  { system: 'mm2', areaMm2: 2.5 },
  { system: 'awg', gauge: '16' },
] as const;
const KINDS = ['wire', 'terminal', 'housing', 'boot', 'fitting', 'consumable', 'device'] as const;

/** A catalogue of any size, always the same for a seed: words, makers, numbers, sizes and colours as a club has them. */
export function manyParts(count: number, seed = 1): Part[] {
  const below = randomBelow(seed);
  const of = <T>(list: readonly T[]) => list[below(list.length)] as T;
  const number = () => `${10 + below(90)} ${10 + below(90)} ${10 + below(90)}-${10 + below(90)}`;
  return Array.from({ length: count }, (_, at) => {
    const kind = of(KINDS);
    const common = {
      code: `${kind}-${at}`,
      description: `${of(WORDS)} ${kind} for the ${of(WORDS)} ${of(WORDS)} ${of(WORDS)}`,
      maker: of(MAKERS),
      makerCode: number(),
      numbers: [{ whose: of(MAKERS), number: number() }],
    };
    const more = {
      wire: { cableType: 'pvc', size: of(SIZES), colour: { base: of(SHADES), tracer: of(SHADES) } },
      terminal: { terminalType: of(['ring', 'blade', 'bullet', 'pin']), sizeMm: 1 + below(12) },
      housing: { ways: 1 + below(24) },
      boot: {},
      fitting: { fittingType: of(['grommet', 'clip', 'tie']) },
      consumable: {},
      device: { deviceType: of(['fuse', 'relay', 'switch', 'lamp']) },
    }[kind];
    return Part.parse({ kind, ...common, ...more });
  });
}

/** Offers of these parts by this supplier, each part in turn. */
export function manyOffers(count: number, parts: readonly Part[], supplier: string, seed = 2): Offer[] {
  const below = randomBelow(seed);
  return Array.from({ length: count }, (_, at): Offer => {
    const part = parts[at % parts.length] as Part;
    return {
      code: `offer-${at}`,
      form: 'pack',
      supplier,
      supplierCode: `S ${1000 + below(9000)}-${at}`,
      description: part.description,
      condition: 'new',
      part: part.code,
      packCount: 1 + below(50),
      packPrice: { amount: `${1 + below(20)}.${10 + below(90)}`, currency: 'GBP' },
      minimumPacks: 1,
      stepPacks: 1,
    };
  });
}
