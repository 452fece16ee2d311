import { joinOf, SIDES, type Wire } from '../../model/loom.ts';
import { millivoltsLost } from '../../trade/copper.ts';
import type { AskedLoom } from '../asked.ts';
import type { WireOf } from './joins.ts';
import type { WireFigures } from '../wires/wireFigures.ts';
import type { Link } from './worstWay.ts';

/** A wire that carries current, with the millivolts that it and its ends lose; none of its own where it is not known. */
export interface Conductor extends Link {
  of: WireOf;
  amps: number;
  /** Of its copper, there and, with an insulated return, back. */
  wireMv: number | undefined;
  /** Crimped and soldered ends; a joint or joiner is counted at its place. */
  joints: number;
}

/** Wires with amps as conductors. Resistor wires are left out: what they lose is meant. */
export function conductors(wires: readonly WireOf[], figures: WireFigures, lengths: LengthsOf): Conductor[] {
  return wires.flatMap((of) => {
    const { wire, asked, from, to } = of;
    const amps = wire.amps ?? 0;
    if (amps <= 0 || (wire.function && 'targetOhm' in wire.function)) return [];
    const milliohmPerM = figures.of(wire).milliohmPerM?.value;
    const lengthMm = lengths(of);
    const celsius = asked.settings.workingTemperatureC;
    const ways = asked.loom.earth === 'insulatedReturn' ? 2 : 1;
    const wireMv =
      milliohmPerM === undefined || lengthMm === undefined
        ? undefined
        : ways * millivoltsLost({ amps, milliohmPerM, lengthMm, celsius });
    const joints = SIDES.filter((side) => ['crimp', 'solder'].includes(joinOf(wire[side]))).length;
    return [
      { of, from, to, amps, wireMv, joints, cost: (wireMv ?? 0) + joints * asked.settings.jointMillivolts },
    ];
  });
}

/** The length along which a wire loses volts, mm. */
export type LengthsOf = (of: { asked: AskedLoom; wire: Wire }) => number | undefined;

/** As fixed by its function, else the longer of what is stated and its way; a core's else its cable's. */
export function lengthsOf(looms: readonly AskedLoom[]): LengthsOf {
  const cables = new Map(
    looms.map((asked) => [
      asked,
      new Map(asked.loom.cables.map(({ id, length }) => [id, length?.mm] as const)),
    ]),
  );
  return ({ asked, wire }) => {
    if (wire.function && 'fixedMm' in wire.function) return wire.function.fixedMm;
    const own = [wire.length?.mm, asked.ways.ofWire(wire).way?.lengthMm].filter((mm) => mm !== undefined);
    if (own.length > 0) return Math.max(...own);
    return wire.inCable === undefined ? undefined : cables.get(asked)?.get(wire.inCable);
  };
}
