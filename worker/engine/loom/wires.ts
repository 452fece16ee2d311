import { byCode } from '../model/code.ts';
import { addTo } from '../model/group.ts';
import { pointer, type Finding } from '../model/finding.ts';
import type { Wire } from '../model/loom.ts';
import type { Part } from '../model/part.ts';
import type { WireRequirement } from '../model/result.ts';
import type { Step } from '../model/step.ts';
import type { AskedLoom } from './asked.ts';
import { cutLength } from './cutLength.ts';
import type { LeftOutList } from './leftOut.ts';
import { sizeLabel } from '../model/size.ts';
import { hasNoEquivalent, knownImperialSizes, tradeStep } from '../trade/wireSizes.ts';
import { totalOf } from './totals.ts';
import { wireLength } from './wireLength.ts';
import { isWirePart, specKey, specLabel, specOf, type WireSpec } from './wireSpec.ts';

/** Rolls the looms' wires up into what is bought by the metre, by cable type, size and colour. */
export function rollUpWires(
  looms: readonly AskedLoom[],
  parts: readonly Part[],
  leftOut: LeftOutList,
  findings: Finding[],
): WireRequirement[] {
  const servedBy = wirePartsBySpec(parts);
  const needs = new Map<string, WireRequirement>();
  for (const { loom, index, quantity, ways, settings } of looms)
    loom.wires.forEach((wire, wireIndex) => {
      const spec = specOf(wire);
      const key = specKey(spec);
      // A core is bought with its cable.
      if (wire.inCable !== undefined) return;
      const at = { path: ['looms', index, 'wires', wireIndex], where: `loom ${loom.code}, wire ${wire.id}` };
      const measured = wire.function === undefined ? wireLength(wire, ways, settings, at) : undefined;
      const cut = measured?.length && cutLength(measured.length, [wire.from, wire.to], settings);
      if (wire.supply !== 'buy') {
        leftOut.wire({ key, label: specLabel(spec) }, wire.supply, cut && cut.cutMm * quantity, {
          loom: loom.code,
          where: `wire ${wire.id}`,
        });
        return;
      }
      findings.push(...(measured?.findings ?? [functionNotWorked(wire, at)]));
      if (!cut) return;
      const sold = soldAs(wire);
      if (hasNoEquivalent(wire.size)) findings.push(unknownSize(wire, at));
      const need = needs.get(key) ?? empty(key, spec, servedBy.get(key) ?? []);
      needs.set(key, need);
      need.pieces.push({
        loom: loom.code,
        wire: wire.id,
        count: quantity,
        cutMm: cut.cutMm,
        steps: [...(measured?.steps ?? []), cut.step, ...(sold === undefined ? [] : [sold])],
      });
    });
  return [...needs.values()]
    .sort((a, b) => byCode(a.id, b.id))
    .map((need) => ({ ...need, ...totalOf(need.pieces) }));
}

function wirePartsBySpec(parts: readonly Part[]): Map<string, string[]> {
  const bySpec = new Map<string, string[]>();
  for (const part of parts.filter(isWirePart)) addTo(bySpec, specKey(part), part.code);
  return bySpec;
}

function empty(key: string, spec: WireSpec, servedBy: string[]): WireRequirement {
  return {
    id: `wire:${key}`,
    kind: 'wire',
    label: specLabel(spec),
    ...spec,
    pieces: [],
    totalMm: 0,
    servedBy,
    steps: [],
  };
}

/** The step that says which cable an old size is sold as. */
function soldAs(wire: Wire): Step | undefined {
  const trade = tradeStep(wire.size);
  return trade && { rule: 'tradeSize', text: trade.text, value: trade.areaMm2, unit: 'mm²' };
}

interface At {
  path: PropertyKey[];
  where: string;
}

function unknownSize(wire: Wire, { path, where }: At): Finding {
  return {
    code: 'size-without-equivalent',
    severity: 'warning',
    at: pointer([...path, 'size']),
    where,
    found: sizeLabel(wire.size),
    limit: knownImperialSizes(),
    source: 'common practice: what the trade sells for n/.012 cable',
    todo: 'No metric cable is known to be sold for this size: it is met only by a part of the very same mark. Count and measure the strands again, or state the size that you will use instead.',
  };
}

/** A resistor wire or a fusible link, which takes no allowances and is not worked out yet. */
function functionNotWorked({ function: purpose }: Wire, { path, where }: At): Finding {
  return {
    code: 'functional-length-not-worked',
    severity: 'warning',
    at: pointer([...path, 'function']),
    where,
    found:
      purpose && 'targetOhm' in purpose
        ? `a resistor wire of ${purpose.targetOhm} Ω`
        : `a fixed length of ${purpose?.fixedMm ?? 0} mm`,
    todo: 'Functional lengths are not worked out yet: this wire is in no metres here. Buy it apart from this quote.',
  };
}
