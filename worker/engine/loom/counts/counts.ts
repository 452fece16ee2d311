import { byCode } from '../../model/code.ts';
import { pointer, type Finding } from '../../model/finding.ts';
import { isByLength, type Part } from '../../model/part.ts';
import type { CountRequirement } from '../../model/result.ts';
import type { Step } from '../../model/step.ts';
import type { AskedLoom } from '../asked.ts';
import type { LeftOutList } from '../leftOut.ts';
import { placesOf, type Place } from './places.ts';
import { hasSpares, joinSettings, spares } from './spares.ts';

interface Need {
  part: Part;
  uses: CountRequirement['uses'];
  looms: Map<AskedLoom, number>;
  /** Those of which spares are bought: of each loom so many joined in each way. */
  spared: Map<AskedLoom, Map<Place['join'], number>>;
  /** Of a terminal: the wires that go in it, by their sizes, and how many are crimped for trial. */
  setUps: Map<string, number>;
}

/** Rolls up what is counted: one requirement a part, shared terminals once, spares of terminals, their covers and seals on top. */
export function rollUpCounts(
  looms: readonly AskedLoom[],
  parts: readonly Part[],
  leftOut: LeftOutList,
  findings: Finding[],
): CountRequirement[] {
  const byCodeOf = new Map(parts.map((part) => [part.code, part]));
  const needs = new Map<string, Need>();
  for (const asked of looms) {
    const { loom, index, quantity } = asked;
    for (const place of placesOf(asked, byCodeOf)) {
      const part = byCodeOf.get(place.part);
      if (!part) throw new Error(`part ${place.part} is not in the job`);
      if (isByLength(part.kind)) {
        findings.push({
          code: 'length-part-counted',
          severity: 'warning',
          at: pointer(['looms', index, ...place.path]),
          where: `loom ${loom.code}, ${place.where}`,
          subject: `part:${part.code}`,
          found: `${part.code} (${part.description}), a ${part.kind}`,
          limit: 'a part that is counted',
          todo: `A ${part.kind} is bought by length and is not counted here, so it is not in this quote. Name a part that is counted, or buy it separately.`,
        });
        continue;
      }
      const total = place.each * quantity;
      if (place.supply !== 'buy') {
        leftOut.part(
          { code: part.code, label: part.description },
          { supply: place.supply, bySetting: place.bySetting === true },
          total,
          { loom: loom.code, where: place.where },
        );
        continue;
      }
      const need = needs.get(part.code) ?? empty(part);
      needs.set(part.code, need);
      need.uses.push({ loom: loom.code, where: place.where, each: place.each, total });
      need.looms.set(asked, (need.looms.get(asked) ?? 0) + total);
      if (hasSpares(part.kind, place.join !== undefined)) {
        const byJoin = need.spared.get(asked) ?? new Map<Place['join'], number>();
        need.spared.set(asked, byJoin.set(place.join, (byJoin.get(place.join) ?? 0) + total));
      }
      const { setUpCrimps } = asked.settings;
      if (place.sizes !== undefined && (need.setUps.get(place.sizes) ?? 0) < setUpCrimps)
        need.setUps.set(place.sizes, setUpCrimps);
    }
  }
  return [...needs.values()].sort((a, b) => byCode(a.part.code, b.part.code)).map(requirement);
}

function empty(part: Part): Need {
  return { part, uses: [], looms: new Map(), spared: new Map(), setUps: new Map() };
}

function requirement({ part, uses, looms, spared, setUps }: Need): CountRequirement {
  const used = [...looms.values()].reduce((sum, total) => sum + total, 0);
  const lost = [...spared].flatMap(([{ settings }, byJoin]) =>
    [...byJoin].map(([join, total]) => ({ used: total, ...joinSettings(settings, join) })),
  );
  const spare = lost.length > 0 ? spares(lost) : undefined;
  const trials = [...setUps.values()].reduce((sum, crimps) => sum + crimps, 0);
  const spareCount = (spare?.spares ?? 0) + trials;
  const quantity = used + spareCount;
  const steps: Step[] = [
    { rule: 'count', text: `${usesOf(looms)} = ${piecesOf(used)}`, value: used, unit: 'pieces' },
  ];
  if (spare)
    steps.push(spare.step, ...(trials > 0 ? [setUpStep(setUps, trials)] : []), {
      rule: 'total',
      text: `${used} used + ${spareCount} spare = ${piecesOf(quantity)}`,
      value: quantity,
      unit: 'pieces',
    });
  return {
    id: `part:${part.code}`,
    kind: 'count',
    label: part.description,
    part: part.code,
    uses,
    used,
    spares: spareCount,
    quantity,
    servedBy: [part.code],
    steps,
  };
}

/** "set-up crimps: 2 with 1 mm² + 2 with 2 mm² = 4 pieces" */
function setUpStep(setUps: ReadonlyMap<string, number>, trials: number): Step {
  const terms = [...setUps].map(([sizes, crimps]) => `${crimps} with ${sizes}`).join(' + ');
  return {
    rule: 'spares',
    text: `set-up crimps: ${terms} = ${piecesOf(trials)}`,
    value: trials,
    unit: 'pieces',
  };
}

const piecesOf = (count: number) => `${count} piece${count === 1 ? '' : 's'}`;

/** "rear-lamps 2 × 12 + trailer 1 × 3": looms asked for × uses in each */
function usesOf(looms: ReadonlyMap<AskedLoom, number>): string {
  return [...looms]
    .map(([{ loom, quantity }, total]) => `${loom.code} ${quantity} × ${total / quantity}`)
    .join(' + ');
}
