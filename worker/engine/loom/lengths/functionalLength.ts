import { pointer, type Finding } from '../../model/finding.ts';
import type { Wire } from '../../model/loom.ts';
import type { Step } from '../../model/step.ts';
import type { Figure } from '../../trade/cableFigures.ts';
import { ceilToStep, D, plain } from '../../units/decimal.ts';
import type { EndAllowance } from './endAllowances.ts';
import type { MeasuredLength } from './cutLength.ts';

type Purpose = NonNullable<Wire['function']>;

interface Given {
  purpose: Purpose;
  ends: readonly [EndAllowance, EndAllowance];
  milliohmPerM: Figure | undefined;
  /** As measured or along its way: how far it has to reach. */
  reach: MeasuredLength | undefined;
  /** Whether what is stripped of a resistor wire is part of the length that its ohms ask. */
  stripWithin: boolean;
}

/**
 * A length that the wire's work asks for: it takes no slack, no re-do and no cutting step, and is rounded up to 1 mm. A
 * fusible link is cut as stated, its stripped ends within. A resistor wire has its ohms between the copper of its
 * terminals; what is stripped lies in them and is added, unless the settings say that it is within.
 */
export function functionalLength(
  { purpose, ends, milliohmPerM, reach, stripWithin }: Given,
  { path, where, subject }: { path: PropertyKey[]; where: string; subject: string },
): { cut: { cutMm: number; step: Step } | undefined; findings: Finding[] } {
  const at = pointer([...path, 'function']);
  if ('targetOhm' in purpose && !milliohmPerM)
    return {
      cut: undefined,
      findings: [
        {
          code: 'function-without-resistance',
          severity: 'stop',
          at,
          where,
          subject,
          found: `a resistor wire of ${purpose.targetOhm} Ω, but its resistance per metre is not known`,
          todo: 'This wire is not in the metres to buy. State resistanceMilliohmPerM at the wire part for it.',
        },
      ],
    };
  const strips = ends.map(({ stripMm }) => stripMm);
  const cut =
    'fixedMm' in purpose
      ? asStated(purpose.fixedMm)
      : toTarget(purpose.targetOhm, milliohmPerM, strips, stripWithin);
  const short = reach !== undefined && reach.mm > cut.cutMm;
  const findings: Finding[] = short
    ? [
        {
          code: 'function-too-short',
          severity: 'warning',
          at,
          where,
          subject,
          found: `${cut.cutMm} mm by its function; ${reach.mm} mm to reach`,
          limit: `at least ${reach.mm} mm`,
          todo: 'The wire is cut to the length that its function needs. Bring its ends nearer, or use a resistor wire with fewer ohms per metre.',
        },
      ]
    : [];
  return { cut, findings };
}

function asStated(fixedMm: number): { cutMm: number; step: Step } {
  return {
    cutMm: fixedMm,
    step: {
      rule: 'function',
      text: `${fixedMm} mm as stated, strips included, nothing added`,
      value: fixedMm,
      unit: 'mm',
    },
  };
}

function toTarget(
  targetOhm: number,
  milliohmPerM: Figure | undefined,
  strips: readonly number[],
  stripWithin: boolean,
): { cutMm: number; step: Step } {
  const each = milliohmPerM?.value ?? 0;
  const lengthMm = new D(targetOhm).mul(1_000_000).div(each).toDecimalPlaces(3);
  const total = stripWithin ? lengthMm : strips.reduce((sum, strip) => sum.add(strip), lengthMm);
  const cutMm = ceilToStep(total, 1);
  const stripped = strips.join(' + ');
  const terms = stripWithin
    ? `${plain(lengthMm)}, strips ${stripped} included,`
    : `${plain(lengthMm)} between the strips + strips ${stripped} = ${plain(total)}`;
  return {
    cutMm,
    step: {
      rule: 'function',
      text: `${targetOhm} Ω at ${each} mΩ/m (${milliohmPerM?.source ?? ''}) ${terms} → ${cutMm} mm, nothing added`,
      value: cutMm,
      unit: 'mm',
    },
  };
}
