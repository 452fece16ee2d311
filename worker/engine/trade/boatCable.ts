import { areaMm2 } from './area.ts';

/**
 * Boat cable of 105 °C: amps by AWG outside the engine space, at most two of a bundle loaded, and what is left of them in
 * a bundle of more (cableyutai.com.tw, tech-02). It holds for boat cable alone: vehicle cable is never looked up here.
 * In an engine space the table takes off another 15 %; no loom says where its wires lie, so that is not done.
 */
// prettier-ignore
const AMPS: Readonly<Record<string, number>> = {
  '18': 20, '16': 25, '14': 35, '12': 45, '10': 60, '8': 80, '6': 120, '4': 160, '2': 210,
};

const SHARES: readonly (readonly [wiresAtMost: number, share: number])[] = [
  [2, 1],
  [3, 0.7],
  [6, 0.6],
  [24, 0.5],
];

export const BOAT_TABLE =
  'boat cable of 105 °C outside engine spaces, cableyutai.com.tw, tech-02 (in an engine space 0.85 of it)';

export function boatAmps(gauge: string): number | undefined {
  return AMPS[gauge];
}

/** What share of its amps a boat cable keeps among so many wires; undefined beyond the table's 24. */
export function boatBundleShare(wires: number): number | undefined {
  return SHARES.find(([atMost]) => wires <= atMost)?.[1];
}

/** The gauges of the table, the thinnest first. */
const GAUGES = ['18', '16', '14', '12', '10', '8', '6', '4', '2'] as const;

/**
 * What no copper of an area carries by any table at hand: the figure of the next gauge up in this table, whose figures are
 * the highest of all (AC 43.13-1B, table 11-9, for wire of 200 °C has less in every gauge). It is a mark of the impossible,
 * no rating: undefined above the thickest gauge.
 */
export function mostOfCopper(areaMm2Stated: number): { amps: number; gauge: string } | undefined {
  const gauge = GAUGES.find((each) => (areaMm2({ system: 'awg', gauge: each }) ?? 0) >= areaMm2Stated);
  const amps = gauge === undefined ? undefined : AMPS[gauge];
  return gauge === undefined || amps === undefined ? undefined : { amps, gauge };
}
