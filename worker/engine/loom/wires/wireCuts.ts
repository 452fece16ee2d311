import type { Finding } from '../../model/finding.ts';
import type { Wire } from '../../model/loom.ts';
import type { Part } from '../../model/part.ts';
import type { Step } from '../../model/step.ts';
import { tradeAreaMm2 } from '../../trade/wireSizes.ts';
import type { AskedLoom } from '../asked.ts';
import { cutLength } from '../lengths/cutLength.ts';
import { endAllowance } from '../lengths/endAllowances.ts';
import { functionalLength } from '../lengths/functionalLength.ts';
import { twistsOf } from '../lengths/twists.ts';
import type { WireFigures } from './wireFigures.ts';
import { wireLength } from '../lengths/wireLength.ts';

/** Where a wire stands, for findings. */
export interface At {
  path: PropertyKey[];
  where: string;
  subject: string;
}

export interface WireCut {
  /** None where the length is not known. */
  cut: { cutMm: number } | undefined;
  steps: Step[];
  findings: Finding[];
}

/** Works out how long the wires of a loom are cut, with the sums. */
export function wireCutsOf(
  asked: AskedLoom,
  parts: readonly Part[],
  figures: WireFigures,
): { cutOf: (wire: Wire, at: At) => WireCut; findings: Finding[] } {
  const { ways, terminalOf, settings } = asked;
  const byCodeOf = new Map(parts.map((part) => [part.code, part]));
  const { twists, findings } = twistsOf(asked, figures);
  const cutOf = (wire: Wire, at: At): WireCut => {
    const areaMm2 = tradeAreaMm2(wire.size);
    const allowance = (end: Wire['from']) =>
      endAllowance(end, byCodeOf.get(terminalOf(end)?.part ?? ''), areaMm2, settings);
    const ends = [allowance(wire.from), allowance(wire.to)] as const;
    const measured = wireLength(wire, ways, ends, settings, at);
    if (wire.function) {
      const { milliohmPerM } = figures.of(wire);
      const worked = functionalLength(
        {
          purpose: wire.function,
          ends,
          milliohmPerM,
          reach: measured.length,
          stripWithin: settings.resistorStripWithin,
        },
        at,
      );
      return {
        cut: worked.cut,
        steps: worked.cut ? [worked.cut.step] : [],
        // A length by function needs no other; a way that is stated wrong is told all the same.
        findings: [...measured.findings.filter(({ code }) => code === 'way-broken'), ...worked.findings],
      };
    }
    const cut = measured.length && cutLength(measured.length, ends, settings, twists.get(wire.id));
    return {
      cut,
      steps: cut ? [...measured.steps, cut.step] : [],
      findings: measured.findings,
    };
  };
  return { cutOf, findings };
}
