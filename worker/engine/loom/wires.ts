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
  for (const { loom, index, quantity, settings } of looms)
    loom.wires.forEach((wire, wireIndex) => {
      const spec = specOf(wire);
      const key = specKey(spec);
      // A core is bought with its cable.
      if (wire.inCable !== undefined) return;
      const plain = wire.function === undefined ? wire.length : undefined;
      const cut = plain && cutLength(plain, [wire.from, wire.to], settings);
      if (wire.supply !== 'buy') {
        leftOut.wire({ key, label: specLabel(spec) }, wire.supply, cut && cut.cutMm * quantity, {
          loom: loom.code,
          where: `wire ${wire.id}`,
        });
        return;
      }
      if (!cut) {
        findings.push(notInTheMetres(wire, loom.code, ['looms', index, 'wires', wireIndex]));
        return;
      }
      const sold = soldAs(wire);
      if (hasNoEquivalent(wire.size))
        findings.push(unknownSize(wire, loom.code, ['looms', index, 'wires', wireIndex]));
      const need = needs.get(key) ?? empty(key, spec, servedBy.get(key) ?? []);
      needs.set(key, need);
      need.pieces.push({
        loom: loom.code,
        wire: wire.id,
        count: quantity,
        cutMm: cut.cutMm,
        steps: sold === undefined ? [cut.step] : [cut.step, sold],
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

function unknownSize(wire: Wire, loom: string, path: PropertyKey[]): Finding {
  return {
    code: 'size-without-equivalent',
    severity: 'warning',
    at: pointer([...path, 'size']),
    where: `loom ${loom}, wire ${wire.id}`,
    found: sizeLabel(wire.size),
    limit: knownImperialSizes(),
    source: 'trade table of metric equivalents; see the wire’s steps',
    todo: 'No metric cable is known to be sold for this size: it is met only by a part of the very same mark. Count and measure the strands again, or state the size that you will use instead.',
  };
}

/** A wire that cannot be rolled up yet, and why. */
function notInTheMetres(wire: Wire, loom: string, path: PropertyKey[]): Finding {
  const where = `loom ${loom}, wire ${wire.id}`;
  if (wire.function !== undefined)
    return {
      code: 'functional-length-not-worked',
      severity: 'warning',
      at: pointer([...path, 'function']),
      where,
      found:
        'targetOhm' in wire.function
          ? `a resistor wire of ${wire.function.targetOhm} Ω`
          : `a fixed length of ${wire.function.fixedMm} mm`,
      todo: 'Functional lengths are not worked out yet: this wire is in no metres here. Buy it apart from this quote.',
    };
  return {
    code: 'wire-without-length',
    severity: 'stop',
    at: pointer(path),
    where,
    found:
      wire.via === undefined
        ? 'no length'
        : `no length, only a way along ${wire.via.length} branch${wire.via.length === 1 ? '' : 'es'}`,
    todo: 'This wire is not in the metres to buy. State its length: mm, and from where to where it was measured (lengths along branches are not worked out yet).',
  };
}
