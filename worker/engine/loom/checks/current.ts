import type { Finding } from '../../model/finding.ts';
import { BOAT_TABLE, boatBundleShare } from '../../trade/boatCable.ts';
import type { Figure } from '../../trade/figure.ts';
import { D } from '../../units/decimal.ts';
import type { CheckContext } from './context.ts';
import { atWire, bySort, eachWire, firstOf, sortWords, type WirePlace } from './eachWire.ts';
import { unrated } from './unrated.ts';
import { overloadedDevices, overloadedTerminals } from './overloadedParts.ts';

const NO_DERATING = 'no published derating for bundled vehicle cable is known, and none is applied';

/**
 * Amps against what the cable, the terminals and the devices are rated for; working temperature against the cable's.
 * Always a warning: ratings are for good, a horn or starter draws more for moments, and no source at hand says by how
 * much a rating may be passed before it is grave. A fuse that lets it happen is a stop of its own.
 */
export function checkCurrent(context: CheckContext): Finding[] {
  const wires = eachWire(context.looms);
  const neighbours = neighboursOf(context);
  const carrying = wires.filter(({ wire }) => (wire.amps ?? 0) > 0);
  const overloaded = carrying.flatMap((place): Finding[] => {
    const rated = context.figures.of(place.wire).ratedAmps;
    if (!rated) return [];
    if (rated.source !== BOAT_TABLE) return tooMuch(place, rated.value, `${rated.source}; ${NO_DERATING}`);
    const beside = neighbours(place);
    const share = boatBundleShare(beside);
    return share === undefined
      ? [beyondTable(place, beside)]
      : tooMuch(place, ...boatLimit(rated, share, beside));
  });
  return [
    ...overloaded,
    ...overloadedTerminals(context, carrying),
    ...overloadedDevices(context, carrying),
    ...tooHot(context),
    ...unrated(context),
  ];
}

function boatLimit(rated: Figure, share: number, beside: number): [number, string] {
  const source =
    share === 1 ? rated.source : `${rated.source}: ${share} of ${rated.value} A among ${beside} wires`;
  return [new D(rated.value).mul(share).toNumber(), source];
}

function tooMuch(place: WirePlace, limit: number, source: string): Finding[] {
  const { amps = 0 } = place.wire;
  if (amps <= limit) return [];
  return [
    {
      code: 'wire-overloaded',
      severity: 'warning',
      ...atWire(place, 'amps'),
      found: `${amps} A through ${sortWords(place.wire)}`,
      limit: `at most ${Number(limit.toFixed(2))} A`,
      source,
      todo: 'Take a larger size, or share the current between more wires. If it flows only for moments, accept this with a note.',
    },
  ];
}

/** The table’s shares of a bundle end at so many wires. */
function beyondTable(place: WirePlace, beside: number): Finding {
  return {
    code: 'rating-unknown',
    severity: 'warning',
    ...atWire(place, 'amps'),
    found: `${sortWords(place.wire)} among ${beside} wires, more than its table covers`,
    source: BOAT_TABLE,
    todo: 'Its amps are not checked. Split the bundle, or ask the maker of the wire about such a bundle.',
  };
}

/** One for each loom, cable type and size. */
function tooHot({ figures, looms }: CheckContext): Finding[] {
  return looms.flatMap((asked) =>
    bySort(eachWire([asked])).flatMap((same): Finding[] => {
      const [first] = same;
      const most = first && figures.of(first.wire).temperatureMaxC;
      if (!first || !most || asked.settings.workingTemperatureC <= most.value) return [];
      return [
        {
          code: 'wire-too-hot',
          severity: 'warning',
          ...atWire(first, 'cableType'),
          found: `used at ${asked.settings.workingTemperatureC} °C: ${firstOf(same)}`,
          limit: `at most ${most.value} °C`,
          source: most.source,
          todo: 'Use a cable of a higher temperature class there, or correct workingTemperatureC.',
        },
      ];
    }),
  );
}

/** How many wires lie beside a wire at the most, itself among them, along its way. */
function neighboursOf({ looms, branches, figures }: CheckContext): (place: WirePlace) => number {
  const counts = new Map(
    looms
      .filter(({ loom }) => loom.wires.some((wire) => figures.of(wire).ratedAmps?.source === BOAT_TABLE))
      .map(({ loom }) => {
        const most = new Map<string, number>();
        for (const { wires } of branches.of(loom.code))
          for (const { id } of wires) most.set(id, Math.max(most.get(id) ?? 1, wires.length));
        return [loom.code, most] as const;
      }),
  );
  return ({ asked, wire }) => counts.get(asked.loom.code)?.get(wire.id) ?? 1;
}
