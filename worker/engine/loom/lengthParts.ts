import { byCode } from '../model/code.ts';
import { pointer, type Finding } from '../model/finding.ts';
import { addTo } from '../model/group.ts';
import type { JobLoom } from '../model/job.ts';
import type { Part } from '../model/part.ts';
import type { LengthRequirement } from '../model/result.ts';
import type { SettingValues } from '../model/settings.ts';
import { ceilToStep, D, plain } from '../units/decimal.ts';
import type { Step } from '../model/step.ts';
import type { AskedLoom } from './asked.ts';
import { cutLength } from './cutLength.ts';
import type { LeftOutList } from './leftOut.ts';
import { totalOf } from './totals.ts';
import type { Ways } from './ways.ts';
import { wayStep } from './wireLength.ts';

type Covering = JobLoom['coverings'][number];
type Cable = JobLoom['cables'][number];
type LengthPart = Extract<Part, { kind: 'cable' | 'sleeve' | 'tape' }>;

/** One piece that a loom needs of a part sold by length. */
interface Piece {
  part: string | undefined;
  what: string;
  supply: Covering['supply'];
  cut: { cutMm: number; steps: Step[] } | undefined;
  cores?: string[];
  path: PropertyKey[];
}

/** Rolls up cables and coverings, by stated length or along branches: one requirement a part, whole pieces, or metres of tape. */
export function rollUpLengths(
  looms: readonly AskedLoom[],
  parts: readonly Part[],
  leftOut: LeftOutList,
  findings: Finding[],
): LengthRequirement[] {
  const byCodeOf = new Map(parts.map((part) => [part.code, part]));
  const needs = new Map<string, LengthRequirement>();
  for (const { loom, index, quantity, ways, settings } of looms)
    for (const piece of piecesOf(loom, settings, byCodeOf, ways)) {
      const where = `loom ${loom.code}, ${piece.what}`;
      const path = ['looms', index, ...piece.path];
      const part = piece.part === undefined ? undefined : byCodeOf.get(piece.part);
      if (!part || !isLength(part)) {
        findings.push(part ? counted(part, path, where) : notChosen(path, where));
        continue;
      }
      if (piece.supply !== 'buy') {
        const mm = piece.cut && piece.cut.cutMm * quantity;
        leftOut.length({ code: part.code, label: part.description }, piece.supply, mm, {
          loom: loom.code,
          where: piece.what,
        });
        continue;
      }
      if (!piece.cut) {
        findings.push(withoutLength(path, where));
        continue;
      }
      const need = needs.get(part.code) ?? empty(part);
      needs.set(part.code, need);
      need.pieces.push({
        loom: loom.code,
        what: piece.what,
        ...(piece.cores ? { cores: piece.cores } : {}),
        count: quantity,
        cutMm: piece.cut.cutMm,
        steps: piece.cut.steps,
      });
    }
  return [...needs.values()]
    .sort((a, b) => byCode(a.part, b.part))
    .map((need) => ({ ...need, ...totalOf(need.pieces) }));
}

function isLength(part: Part): part is LengthPart {
  return part.kind === 'cable' || part.kind === 'sleeve' || part.kind === 'tape';
}

function empty(part: LengthPart): LengthRequirement {
  return {
    id: `part:${part.code}`,
    kind: 'length',
    label: part.description,
    part: part.code,
    joinable: part.kind === 'tape',
    pieces: [],
    totalMm: 0,
    servedBy: [part.code],
    steps: [],
  };
}

function piecesOf(
  loom: JobLoom,
  settings: SettingValues,
  parts: ReadonlyMap<string, Part>,
  ways: Ways,
): Piece[] {
  const cores = coresByCable(loom);
  return [
    ...loom.cables.map((cable, index): Piece => ({
      part: cable.part,
      what: `cable ${cable.id}`,
      supply: cable.supply,
      cut: cableCut(cable, cores.get(cable.id) ?? [], settings, ways),
      cores: (cores.get(cable.id) ?? []).map(({ id }) => id),
      path: ['cables', index],
    })),
    ...loom.coverings.map((covering, index): Piece => ({
      part: covering.part,
      what: `covering ${covering.id}`,
      supply: covering.supply,
      cut: coveringCut(covering, settings, parts.get(covering.part ?? ''), ways),
      path: ['coverings', index],
    })),
  ];
}

type Core = JobLoom['wires'][number];

function coresByCable(loom: JobLoom): Map<string, Core[]> {
  const cores = new Map<string, Core[]>();
  for (const wire of loom.wires) if (wire.inCable !== undefined) addTo(cores, wire.inCable, wire);
  return cores;
}

/**
 * A cable is cut as a wire is; its cores state their strips, the cable itself has none, so the settings hold. Without a
 * stated length it follows its way, else the shortest way between the ends of its first core.
 */
function cableCut(
  { length, via }: Cable,
  [core]: readonly Core[],
  settings: SettingValues,
  ways: Ways,
): Piece['cut'] {
  const way = length
    ? undefined
    : via
      ? ways.along(via)
      : core && ways.any
        ? ways.shortest(core.from.point, core.to.point)
        : undefined;
  const measured =
    length ?? (way && way.lengthMm > 0 ? { mm: way.lengthMm, basis: 'route' as const } : undefined);
  if (!measured) return undefined;
  const { cutMm, step } = cutLength(measured, [{}, {}], settings);
  return { cutMm, steps: way ? [wayStep(way, ways.loop && via === undefined), step] : [step] };
}

/**
 * A covering is cut to its finished length, as stated or along the branches that it lies over, with its overlaps;
 * heat-shrink that shortens as it shrinks by so much more: to cover 90 mm with a sleeve of −10 % cut 100. Up to the
 * cutting step.
 */
function coveringCut(
  covering: Covering,
  settings: SettingValues,
  part: Part | undefined,
  ways: Ways,
): Piece['cut'] {
  const way = covering.over && ways.along(covering.over);
  const lengthMm = covering.lengthMm ?? way?.lengthMm;
  if (lengthMm === undefined) return undefined;
  const { overlapStartMm, overlapEndMm } = covering;
  const finished = lengthMm + overlapStartMm + overlapEndMm;
  const change =
    part?.kind === 'sleeve' && part.sleeveType === 'heatShrink' ? (part.lengthwiseChangePercent ?? 0) : 0;
  // A sleeve that grows is still cut to cover the length as it goes on.
  const total = change < 0 ? new D(finished).div(new D(1).add(new D(change).div(100))) : new D(finished);
  const cutMm = ceilToStep(total.toDecimalPlaces(6), settings.cuttingStepMm);
  const terms = [
    `${lengthMm} ${covering.lengthMm === undefined ? 'along its branches' : 'stated'}`,
    ...(overlapStartMm + overlapEndMm > 0 ? [`overlaps ${overlapStartMm} + ${overlapEndMm}`] : []),
  ].join(' + ');
  const shrinks = change < 0 ? `, ${change} % as it shrinks: ${plain(total.toDecimalPlaces(2))}` : '';
  const text = `${terms} = ${finished}${shrinks} → ${cutMm} mm`;
  const step: Step = { rule: 'covering', text, value: cutMm, unit: 'mm' };
  return { cutMm, steps: way && covering.lengthMm === undefined ? [wayStep(way, false), step] : [step] };
}

function counted(part: Part, path: PropertyKey[], where: string): Finding {
  return {
    code: 'counted-part-by-length',
    severity: 'warning',
    at: pointer([...path, 'part']),
    where,
    found: `${part.code}, a ${part.kind}`,
    limit: 'a sleeve, a tape or a cable',
    todo: 'Nothing is bought for this. Name a part that is sold by length.',
  };
}

function notChosen(path: PropertyKey[], where: string): Finding {
  return {
    code: 'part-not-chosen',
    severity: 'warning',
    at: pointer(path),
    where,
    found: 'no part named',
    todo: 'Nothing is bought for this: parts are not chosen to fit yet. Name the part.',
  };
}

function withoutLength(path: PropertyKey[], where: string): Finding {
  return {
    code: 'length-not-stated',
    severity: 'warning',
    at: pointer(path),
    where,
    found: 'no length, and no branches that go on from each other',
    todo: 'Nothing is bought for this. State its length, or the branches along which it lies, in order.',
  };
}
