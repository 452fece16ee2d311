import { byCode } from '../../model/code.ts';
import { shadeWords, type Shade } from '../../model/colour.ts';
import { addTo } from '../../model/group.ts';
import type { Wire } from '../../model/loom.ts';
import type { Part, WirePart } from '../../model/part.ts';
import { sizeLabel, type Size } from '../../model/size.ts';
import type { Step } from '../../model/step.ts';
import { grips, passesOver } from '../../trade/shrink.ts';
import { tradeAreaMm2 } from '../../trade/wireSizes.ts';
import { isTracerSleeve, type Sleeve } from '../../job/candidates.ts';
import { isWirePart, sizesKey, specKey, specLabel, specOf, type WireSpec } from '../../job/wireSpec.ts';

/** What is bought for a wire: its own spec, or what stands in for it. */
export interface Stand {
  spec: WireSpec;
  step?: Step;
  /** A sleeve in the tracer's colour, at each end of the wire. */
  tracerSleeve?: Sleeve;
  /** Nobody offers the wire, and its rule is to ask. */
  ask?: true;
}

/** What is bought for a wire of this outside diameter, mm; without one no sleeve is chosen. */
export type StandFor = (wire: Wire, outsideDiameterMm: number | undefined) => Stand;

/**
 * Finds what is bought for a wire that nobody offers in its own colour and size, by its colourRule: the next size up in
 * its colour that is on offer; or plain wire of its base, with a sleeve of the tracer's colour at each end. A wire that
 * is on offer, or for which there is no such stand-in, stays what it is; so does one that is cut by its function, which goes
by the figures of its own spec.
 *
 * @param isRefused whether a larger size does not do in the place of a wire
 */
export function substitutesOf(
  parts: readonly Part[],
  isOnSale: (part: string) => boolean,
  isRefused: (wire: Wire, size: Size) => boolean = () => false,
): StandFor {
  const offered = parts.filter(({ code }) => isOnSale(code));
  const wires = offered.filter(isWirePart);
  const offeredSpecs = new Map(wires.map((wire) => [specKey(wire), wire]));
  const bySizes = new Map<string, WirePart[]>();
  for (const wire of wires) addTo(bySizes, sizesKey(wire), wire);
  const sleeves = offered.filter((part): part is Sleeve => part.kind === 'sleeve');
  return (wire, outsideDiameterMm) => {
    const spec = specOf(wire);
    if (wire.colourRule === 'exact' || offeredSpecs.has(specKey(spec))) return { spec };
    if (wire.colourRule === 'ask') return { spec, ask: true };
    if (wire.function) return { spec };
    if (wire.colourRule === 'nextSizeUp')
      return nextSizeUp(
        spec,
        (bySizes.get(sizesKey(spec)) ?? []).filter(({ size }) => !isRefused(wire, size)),
      );
    const { base, tracer } = spec.colour;
    if (tracer === undefined) return { spec };
    const plain = { ...spec, colour: { base } };
    const tracerSleeve = offeredSpecs.has(specKey(plain))
      ? tracerSleeveFor(tracer, outsideDiameterMm, sleeves)
      : undefined;
    if (!tracerSleeve) return { spec };
    return {
      spec: plain,
      tracerSleeve,
      step: step(
        spec,
        `plain ${shadeWords(base)} with ${tracerSleeve.code} (${shadeWords(tracer)}) at each end instead`,
      ),
    };
  };
}

function nextSizeUp(spec: WireSpec, alike: readonly WirePart[]): Stand {
  const own = tradeAreaMm2(spec.size);
  if (own === undefined) return { spec };
  const [next] = alike
    .flatMap((part) => {
      const areaMm2 = tradeAreaMm2(part.size);
      return areaMm2 !== undefined && areaMm2 > own ? [{ part, areaMm2 }] : [];
    })
    .sort((a, b) => a.areaMm2 - b.areaMm2 || byCode(a.part.code, b.part.code));
  if (!next) return { spec };
  return {
    spec: { ...spec, size: next.part.size },
    step: {
      ...step(spec, `${sizeLabel(next.part.size)} instead, the next size up that is`),
      value: next.areaMm2,
      unit: 'mm²',
    },
  };
}

/** The smallest sleeve of a shade that goes over the wire. */
function tracerSleeveFor(
  shade: Shade,
  overMm: number | undefined,
  sleeves: readonly Sleeve[],
): Sleeve | undefined {
  if (overMm === undefined) return undefined;
  const [smallest] = sleeves
    .filter((sleeve) => isTracerSleeve(sleeve, shade) && goesOn(sleeve, overMm))
    .sort((a, b) => (a.boreMm ?? 0) - (b.boreMm ?? 0) || byCode(a.code, b.code));
  return smallest;
}

/** PVC is pushed over a bare end, so that its bore may be the wire's own; heat-shrink has its rules, and must grip too. */
function goesOn({ sleeveType, boreMm, recoveredBoreMm }: Sleeve, overMm: number): boolean {
  if (boreMm === undefined) return false;
  if (sleeveType !== 'heatShrink') return boreMm >= overMm;
  return passesOver(boreMm, overMm) && recoveredBoreMm !== undefined && grips(recoveredBoreMm, overMm);
}

function step(spec: WireSpec, instead: string): Step {
  return {
    rule: 'substitute',
    text: `no offer sells ${specLabel(spec)}: ${instead}`,
    value: 2,
    unit: 'pieces',
  };
}
