import { pointer, type Finding } from '../../model/finding.ts';
import type { Wire } from '../../model/loom.ts';
import type { SettingValues } from '../../model/settings.ts';
import type { Step } from '../../model/step.ts';
import { D, percentOf, plain } from '../../units/decimal.ts';
import type { MeasuredLength } from './cutLength.ts';
import type { EndAllowance } from './endAllowances.ts';
import type { At } from '../wires/wireCuts.ts';
import type { Way, Ways } from '../graph/ways.ts';

/** The length from which a wire is cut, with the sums that led to it and what was found; no length where none is known. */
export interface WireLength {
  length: MeasuredLength | undefined;
  steps: Step[];
  findings: Finding[];
}

/**
 * A wire's length as stated, or along its way: the one stated in via, else the shortest. Where both are known and differ by
 * more than slack, re-dos and the stated plus-minus, that is told and the longer one is used; within it, what was measured holds.
 */
export function wireLength(
  wire: Wire,
  ways: Ways,
  allowances: readonly [EndAllowance, EndAllowance],
  settings: SettingValues,
  { path, where, subject }: At,
): WireLength {
  const { way, broken } = ways.ofWire(wire);
  const findings: Finding[] = broken ? [{ ...brokenWay(wire, path, where), subject }] : [];
  const stated = wire.length;
  if (!way || way.lengthMm === 0) {
    if (!stated && !broken) findings.push({ ...withoutLength(wire, way, ways, path, where), subject });
    return { length: stated, steps: [], findings };
  }
  const along: WireLength = {
    length: { mm: way.lengthMm, basis: 'route' },
    steps: [wayStep(way, ways.loop && wire.via === undefined)],
    findings,
  };
  if (!stated) return along;
  const ends = stated.basis === 'tipToTip' ? tailsAndStrips(allowances) : 0;
  const apart = Math.abs(stated.mm - way.lengthMm - ends);
  const allowed = percentOf(way.lengthMm, settings.slackPercent)
    .add(allowances[0].redoMm + allowances[1].redoMm)
    .add(stated.plusMinusMm ?? 0);
  if (new D(apart).lte(allowed)) return { length: stated, steps: [], findings };
  const longer = stated.mm < way.lengthMm + ends ? along : { length: stated, steps: [] };
  findings.push({
    code: 'length-differs-from-way',
    severity: 'warning',
    at: pointer([...path, 'length']),
    where,
    subject,
    found: `${stated.mm} mm stated${ends > 0 ? `, including tails and strips of ${ends} mm` : ''}; ${way.lengthMm} mm along its way`,
    limit: `a difference of at most ${plain(allowed)} mm: slack, remaking, and the stated plus-minus`,
    todo: 'The longer one is used. Measure again, or correct the branches or the way.',
  });
  return { ...longer, findings };
}

function tailsAndStrips(ends: readonly EndAllowance[]): number {
  return ends.reduce((sum, { tailMm, stripMm }) => sum + tailMm + stripMm, 0);
}

/** "trunk 2600 + left-leg 450 = 3050 mm, the shortest way" */
export function wayStep(way: Way, several: boolean): Step {
  const terms = way.branches.map(({ id, lengthMm }) => `${id} ${lengthMm}`).join(' + ');
  const sum = way.branches.length === 1 ? `${terms} mm` : `${terms} = ${way.lengthMm} mm`;
  return {
    rule: 'way',
    text: several ? `${sum}, the shortest way` : sum,
    value: way.lengthMm,
    unit: 'mm',
  };
}

function brokenWay(wire: Wire, path: PropertyKey[], where: string): Finding {
  return {
    code: 'way-broken',
    severity: wire.length ? 'warning' : 'stop',
    at: pointer([...path, 'via']),
    where,
    found: `the way ${(wire.via ?? []).join(', ')}`,
    limit: `connected branches, from ${wire.from.point} to ${wire.to.point}`,
    todo: wire.length
      ? 'The stated length is used. Correct the way, or remove it.'
      : 'This wire is not in the metres to buy. Correct the way, or remove it: then the shortest way is used.',
  };
}

function withoutLength(
  wire: Wire,
  way: Way | undefined,
  ways: Ways,
  path: PropertyKey[],
  where: string,
): Finding {
  const { from, to } = wire;
  const none =
    from.point === to.point
      ? `both ends are at ${from.point}`
      : way
        ? 'the branches of its way are 0 mm long'
        : `no branches join ${from.point} and ${to.point}`;
  return {
    code: 'wire-without-length',
    severity: 'stop',
    at: pointer(path),
    where,
    found: ways.any ? `no length, and ${none}` : 'no length',
    todo: 'This wire is not in the metres to buy. State its length in mm and how it was measured, or enter the branches along which it runs.',
  };
}
