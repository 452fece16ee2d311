import { byCode } from '../../model/code.ts';
import { addTo } from '../../model/group.ts';
import { pointer, type Finding } from '../../model/finding.ts';
import type { Wire } from '../../model/loom.ts';
import type { Part } from '../../model/part.ts';
import type { WireRequirement } from '../../model/result.ts';
import type { SettingValues } from '../../model/settings.ts';
import type { Step } from '../../model/step.ts';
import { sizeLabel } from '../../model/size.ts';
import { hasNoEquivalent, knownImperialSizes, tradeStep } from '../../trade/wireSizes.ts';
import type { AskedLoom } from '../asked.ts';
import type { LeftOutList } from '../leftOut.ts';
import { spareWire } from './spareWire.ts';
import type { StandFor } from './substitutes.ts';
import { totalOf } from '../lengths/totals.ts';
import type { TracerSleeve } from './tracerSleeves.ts';
import { wireCutsOf, type At } from './wireCuts.ts';
import type { WireFigures } from './wireFigures.ts';
import { isWirePart, specKey, specLabel, specOf, type WireSpec } from '../../job/wireSpec.ts';

interface Need {
  requirement: WireRequirement;
  cuts: { cutMm: number; count: number; settings: SettingValues; functional: boolean }[];
}

/** What the roll-up of wires looks at beside the looms. */
interface Catalogue {
  parts: readonly Part[];
  standFor: StandFor;
  figures: WireFigures;
}

/**
 * Rolls the looms' wires up into what is bought by the metre, by cable type, size and colour, with spare wire; and the
 * sleeves that mark plain wires which stand for ones with a tracer.
 */
export function rollUpWires(
  looms: readonly AskedLoom[],
  { parts, standFor, figures }: Catalogue,
  leftOut: LeftOutList,
  findings: Finding[],
): { wires: WireRequirement[]; tracerSleeves: TracerSleeve[] } {
  const servedBy = wirePartsBySpec(parts);
  const needs = new Map<string, Need>();
  const tracerSleeves: TracerSleeve[] = [];
  for (const asked of looms) {
    const { loom, index, quantity, settings } = asked;
    const { cutOf, findings: ofTwists } = wireCutsOf(asked, parts, figures);
    findings.push(...ofTwists);
    loom.wires.forEach((wire, wireIndex) => {
      // A core is bought with its cable.
      if (wire.inCable !== undefined) return;
      const at: At = {
        path: ['looms', index, 'wires', wireIndex],
        where: `loom ${loom.code}, wire ${wire.id}`,
        subject: `wire:${wire.id}`,
      };
      const { cut, steps, findings: ofCut } = cutOf(wire, at);
      if (wire.supply !== 'buy') {
        const spec = specOf(wire);
        const line = { key: specKey(spec), label: specLabel(spec) };
        leftOut.wire(line, wire.supply, cut && cut.cutMm * quantity, {
          loom: loom.code,
          where: `wire ${wire.id}`,
        });
        return;
      }
      findings.push(...ofCut);
      if (!cut) return;
      const stand = standFor(wire, figures.of(wire).outsideDiameterMm?.value);
      if (stand.ask) findings.push(askedAbout(wire, at));
      if (stand.tracerSleeve)
        tracerSleeves.push({ asked, wire: wire.id, part: stand.tracerSleeve, mm: settings.tracerSleeveMm });
      if (hasNoEquivalent(wire.size)) findings.push(unknownSize(wire, at));
      const key = specKey(stand.spec);
      const need = needs.get(key) ?? empty(key, stand.spec, servedBy.get(key) ?? []);
      needs.set(key, need);
      need.requirement.pieces.push({
        loom: loom.code,
        wire: wire.id,
        count: quantity,
        cutMm: cut.cutMm,
        steps: [...steps, ...present(soldAs(wire)), ...present(stand.step)],
      });
      need.cuts.push({
        cutMm: cut.cutMm,
        count: quantity,
        settings,
        functional: wire.function !== undefined,
      });
    });
  }
  return {
    wires: [...needs.values()].map(withSpares).sort((a, b) => byCode(a.id, b.id)),
    tracerSleeves,
  };
}

function wirePartsBySpec(parts: readonly Part[]): Map<string, string[]> {
  const bySpec = new Map<string, string[]>();
  for (const part of parts.filter(isWirePart)) addTo(bySpec, specKey(part), part.code);
  return bySpec;
}

function empty(key: string, spec: WireSpec, servedBy: string[]): Need {
  const requirement: WireRequirement = {
    id: `wire:${key}`,
    kind: 'wire',
    label: specLabel(spec),
    ...spec,
    pieces: [],
    spares: [],
    totalMm: 0,
    servedBy,
    steps: [],
  };
  return { requirement, cuts: [] };
}

function withSpares({ requirement, cuts }: Need): WireRequirement {
  const used = totalOf(requirement.pieces);
  const spare = spareWire(requirement, cuts);
  if (!spare) return { ...requirement, ...used };
  if (spare.step.value === 0) return { ...requirement, ...used, steps: [spare.step, ...used.steps] };
  const totalMm = used.totalMm + spare.step.value;
  const total: Step = {
    rule: 'total',
    text: `${used.totalMm} + ${spare.step.value} spare = ${totalMm} mm`,
    value: totalMm,
    unit: 'mm',
  };
  return { ...requirement, totalMm, spares: spare.spares, steps: [...used.steps, spare.step, total] };
}

/** The step that says which cable an old size is sold as. */
function soldAs(wire: Wire): Step | undefined {
  const trade = tradeStep(wire.size);
  return trade && { rule: 'tradeSize', text: trade.text, value: trade.areaMm2, unit: 'mm²' };
}

const present = <T>(value: T | undefined): T[] => (value === undefined ? [] : [value]);

function askedAbout(wire: Wire, { path, where, subject }: At): Finding {
  return {
    code: 'colour-to-settle',
    severity: 'warning',
    at: pointer([...path, 'colour']),
    where,
    subject,
    found: `${specLabel(specOf(wire))}: no offer sells it, and its colourRule is ask`,
    todo: 'Decide what to buy instead: state another colourRule (nextSizeUp, plainBaseWithTracerSleeve), another colour or size, or enter an offer.',
  };
}

function unknownSize(wire: Wire, { path, where, subject }: At): Finding {
  return {
    code: 'size-without-equivalent',
    severity: 'warning',
    at: pointer([...path, 'size']),
    where,
    subject,
    found: sizeLabel(wire.size),
    limit: knownImperialSizes(),
    source: 'common practice: what the trade sells for n/.012 cable',
    todo: 'No metric cable is known for this size, so only a part with exactly this size meets it. Count and measure the strands again, or state the size that you will use instead.',
  };
}
