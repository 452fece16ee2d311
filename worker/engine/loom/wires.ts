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
import { isWirePart, plainColour, specKey, specLabel } from './wireSpec.ts';

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
      const key = specKey(wire);
      const plain = wire.function === undefined && wire.inCable === undefined ? wire.length : undefined;
      const cut = plain && cutLength(plain, [wire.from, wire.to], settings);
      if (wire.supply !== 'buy') {
        leftOut.wire({ key, label: specLabel(wire) }, wire.supply, cut && cut.cutMm * quantity, {
          loom: loom.code,
          where: `wire ${wire.id}`,
        });
        return;
      }
      if (!cut) {
        findings.push(notInTheMetres(wire, loom.code, ['looms', index, 'wires', wireIndex]));
        return;
      }
      const need = needs.get(key) ?? empty(key, wire, servedBy.get(key) ?? []);
      needs.set(key, need);
      need.pieces.push({
        loom: loom.code,
        wire: wire.id,
        count: quantity,
        cutMm: cut.cutMm,
        steps: [cut.step],
      });
    });
  return [...needs.values()].sort((a, b) => byCode(a.id, b.id)).map(summed);
}

function wirePartsBySpec(parts: readonly Part[]): Map<string, string[]> {
  const bySpec = new Map<string, string[]>();
  for (const part of parts.filter(isWirePart)) addTo(bySpec, specKey(part), part.code);
  return bySpec;
}

function empty(key: string, wire: Wire, servedBy: string[]): WireRequirement {
  return {
    id: `wire:${key}`,
    kind: 'wire',
    label: specLabel(wire),
    cableType: wire.cableType,
    size: wire.size,
    colour: plainColour(wire.colour),
    pieces: [],
    totalMm: 0,
    servedBy,
    steps: [],
  };
}

/** More different lengths than this are not written out in the sum. */
const TERMS = 12;

function summed(need: WireRequirement): WireRequirement {
  const counts = new Map<number, number>();
  for (const piece of need.pieces) counts.set(piece.cutMm, (counts.get(piece.cutMm) ?? 0) + piece.count);
  const lengths = [...counts].sort(([a], [b]) => b - a);
  const totalMm = lengths.reduce((sum, [mm, count]) => sum + mm * count, 0);
  const pieces = lengths.reduce((sum, [, count]) => sum + count, 0);
  const terms =
    lengths.length <= TERMS
      ? lengths.map(([mm, count]) => `${count} × ${mm}`).join(' + ')
      : `${pieces} pieces of ${lengths.length} lengths`;
  const step: Step = { rule: 'total', text: `${terms} = ${totalMm} mm`, value: totalMm, unit: 'mm' };
  return { ...need, totalMm, steps: [step] };
}

/** A wire that cannot be rolled up yet, and why. */
function notInTheMetres(wire: Wire, loom: string, path: PropertyKey[]): Finding {
  const where = `loom ${loom}, wire ${wire.id}`;
  if (wire.inCable !== undefined)
    return {
      code: 'wire-in-cable-not-worked',
      severity: 'warning',
      at: pointer([...path, 'inCable']),
      where,
      found: `a core of cable ${wire.inCable}`,
      todo: 'Cables are not worked out yet: this wire is in no metres here. Buy the cable apart from this quote.',
    };
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
